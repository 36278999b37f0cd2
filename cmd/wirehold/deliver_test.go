package main

import (
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestServeNamesEveryFaultOfItsSettingsAtOnce starts nothing: each line is
// refused before the server answers.
func TestServeNamesEveryFaultOfItsSettingsAtOnce(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	empty, password := filepath.Join(dir, "empty"), filepath.Join(dir, "password")
	for name, text := range map[string]string{empty: "\n", password: "hunter2hunter2\n"} {
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	tests := []struct {
		name string
		args []string
		want []string
	}{
		{"all of it", []string{"--zone", "Nowhere/Else", "--listen", "here", "--smtp", "mail", "--smtp-user", "store", "--smtp-password-file", filepath.Join(dir, "none"), "--smtp-tls", "ssl", "--smtp-trust-file", empty},
			[]string{"--zone ", "--listen here", "--smtp: ", "--smtp-password-file: ", "--smtp-from: ", "--smtp-tls: ", "--smtp-trust-file: "}},
		{"an empty password", []string{"--smtp", "mail.yard.example:587", "--smtp-user", "store", "--smtp-password-file", empty, "--smtp-from", "store@yard.example"}, []string{"--smtp-password-file: ", "is empty"}},
		{"a password that goes in the clear", []string{"--smtp", "mail.yard.example:25", "--smtp-user", "store", "--smtp-password-file", password, "--smtp-from", "store@yard.example", "--smtp-tls", "none"}, []string{"in the clear"}},
	}
	for _, tt := range tests {
		log := &syncBuffer{}
		args := append([]string{"serve", "--db", filepath.Join(t.TempDir(), "new.db")}, tt.args...)
		err := run(t.Context(), args, func(string) string { return "" }, io.Discard, log, clock)
		if err == nil {
			t.Errorf("%s: serve starts", tt.name)
			continue
		}
		for _, want := range tt.want {
			if !strings.Contains(err.Error(), want) {
				t.Errorf("%s: %v, which lacks %q", tt.name, err, want)
			}
		}
		if strings.Contains(err.Error()+log.String(), "hunter2") {
			t.Errorf("%s: the password is shown: %v", tt.name, err)
		}
	}
}
