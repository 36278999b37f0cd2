// Package ipptest starts a real IPP printer for a test: ippeveprinter of Debian's
// cups-ipp-utils, which keeps every document that it is sent. It needs avahi and
// D-Bus to run, so all three are started in a network namespace of their own, in
// which the test then runs.
package ipptest

import (
	"bytes"
	"fmt"
	"io/fs"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"
)

// Server is the printer that was started.
type Server struct {
	URL string // to be printed to
	Dir string // where documents are kept, a folder a printer's name deep at most
}

// Documents returns the documents with the file ending that the printer has
// kept, in order of their names.
func (s Server) Documents(t *testing.T, ending string) (out [][]byte) {
	t.Helper()
	err := filepath.WalkDir(s.Dir, func(path string, _ fs.DirEntry, err error) error {
		if err != nil || filepath.Ext(path) != ending {
			return err
		}
		document, err := os.ReadFile(path)
		out = append(out, document)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// inside is set in the process that runs within the namespace.
const inside = "WIREHOLD_IPPTEST_INSIDE"

// Run runs f with a printer. The test is run once more, in a process of its own,
// within a network namespace; that needs root. Where a program is missing the
// test is skipped, or fails if WIREHOLD_TOOLS=required.
func Run(t *testing.T, f func(t *testing.T, printer Server)) {
	t.Helper()
	if os.Getenv(inside) != "" {
		f(t, start(t))
		return
	}
	for _, tool := range []string{"unshare", "ip", "dbus-daemon", "avahi-daemon", "ippeveprinter"} {
		if _, err := exec.LookPath(tool); err != nil {
			missing(t, "%s is not installed", tool)
		}
	}
	if os.Geteuid() != 0 {
		missing(t, "a network namespace needs root")
	}
	cmd := exec.CommandContext(t.Context(), "unshare", "-n", os.Args[0], "-test.run=^"+t.Name()+"$", "-test.v", "-test.count=1")
	cmd.Env = append(os.Environ(), inside+"=1")
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("within the namespace: %v\n%s", err, out)
	}
}

func missing(t *testing.T, format string, args ...any) {
	t.Helper()
	if os.Getenv("WIREHOLD_TOOLS") == "required" {
		t.Fatalf("required: "+format, args...)
	}
	t.Skipf(format, args...)
}

const busConfig = `<!DOCTYPE busconfig PUBLIC "-//freedesktop//DTD D-Bus Bus Configuration 1.0//EN" "http://www.freedesktop.org/standards/dbus/1.0/busconfig.dtd">
<busconfig><listen>unix:path=%s</listen><auth>EXTERNAL</auth>
<policy context="default"><allow send_destination="*" eavesdrop="true"/><allow eavesdrop="true"/><allow own="*"/></policy></busconfig>`

const avahiConfig = "[server]\nallow-interfaces=lo\nuse-ipv4=yes\nuse-ipv6=no\n"

// start brings the printer up.
func start(t *testing.T) Server {
	t.Helper()
	dir := t.TempDir()
	bus, spool := filepath.Join(dir, "bus"), filepath.Join(dir, "spool")
	write(t, filepath.Join(dir, "bus.conf"), fmt.Sprintf(busConfig, bus))
	write(t, filepath.Join(dir, "avahi.conf"), avahiConfig)
	if err := os.Mkdir(spool, 0o755); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.CommandContext(t.Context(), "ip", "link", "set", "lo", "up").CombinedOutput(); err != nil {
		t.Fatalf("ip link set lo up: %v\n%s", err, out)
	}
	background(t, "", "dbus-daemon", "--nofork", "--config-file="+filepath.Join(dir, "bus.conf"))
	until(t, "the bus", func() bool { _, err := os.Stat(bus); return err == nil })
	background(t, bus, "avahi-daemon", "--no-chroot", "--no-drop-root", "--no-rlimits", "-f", filepath.Join(dir, "avahi.conf"))
	const address = "localhost:18631"
	// With a command of its own it does not play at printing for up to 15 s. It gives up at once while avahi is not ready, so it is started until it stays.
	log := background(t, bus, "sh", "-c", "until ippeveprinter -k -d "+spool+" -p 18631 -n localhost -r off -c /bin/true -f application/pdf,image/png Label; do sleep 0.1; done")
	until(t, "the printer", func() bool {
		c, err := net.DialTimeout("tcp", address, time.Second)
		if err == nil {
			c.Close()
		}
		return err == nil
	})
	t.Cleanup(func() {
		if t.Failed() {
			t.Logf("the printer says:\n%s", log)
		}
	})
	return Server{URL: "ipp://" + address + "/ipp/print", Dir: spool}
}

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// background starts a program that the test ends, and returns what it writes.
func background(t *testing.T, bus, name string, args ...string) *bytes.Buffer {
	t.Helper()
	out := &bytes.Buffer{}
	cmd := exec.CommandContext(t.Context(), name, args...)
	cmd.Stdout, cmd.Stderr = out, out
	cmd.WaitDelay = 5 * time.Second
	cmd.Env = append(os.Environ(), "DBUS_SYSTEM_BUS_ADDRESS=unix:path="+bus)
	if err := cmd.Start(); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	t.Cleanup(func() {
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
	})
	return out
}

// until waits for a real program to come up: nothing else tells.
func until(t *testing.T, what string, ready func() bool) {
	t.Helper()
	for range 150 {
		if ready() {
			return
		}
		time.Sleep(100 * time.Millisecond)
	}
	t.Fatalf("waited 15 s for %s", what)
}
