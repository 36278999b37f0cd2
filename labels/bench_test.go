package labels

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strconv"
	"strings"
	"testing"
	"time"

	"wirehold/inventory/unit"
)

// many are labels of n spools of twelve lines each, no two alike: code, lot,
// opening and address differ, and the settings of every third.
func many(tb testing.TB, n int) []Label {
	tb.Helper()
	var out []Label
	for i := range n {
		s := usual()
		s.Code = fmt.Sprintf("W%c%c%c%c-%c", "2345679ACD"[i%10], "EFGHJKMNPR"[i/10%10], "TVWXY23456"[i/100%10], "79ACDEFGHJ"[i*7%10], "KMNPRTVWXY"[i*3%10])
		s.Lot, s.URL = fmt.Sprintf("7F31-%04d", i), "https://wirehold.example/spools/"+s.Code
		s.Opened = fmt.Sprintf("2026-11-%02d %02d:%02d", 1+i%28, i%24, i%60)
		if i%3 == 0 {
			s.Polarity, s.PolarityWords, s.Gas, s.Passes = "DCEP", "", fmt.Sprintf("%d-%d %% CO2, balance argon", 10+i%7, 20+i%9), "any number of passes"
			s.Diameter = 1200 * unit.Micrometre
		}
		label, err := s.Label()
		if err != nil {
			tb.Fatal(err)
		}
		out = append(out, label)
	}
	return out
}

// The wanted figures: 1,000 labels in less than 0.25 s on one core, and one PNG
// in less than a millisecond.
func BenchmarkPNG203(b *testing.B) {
	p, labels, before := press(), many(b, 100), cpu()
	for i := 0; b.Loop(); i++ {
		if err := p.PNG(io.Discard, labels[i%100:i%100+1], on(UsualSize, 203)); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric((cpu()-before).Seconds()*1e3/float64(b.N), "cpu-ms/op")
}

// The first label that a press draws, and its characters with it: fonts and
// compressor it has ready since it was made.
func BenchmarkPNG203First(b *testing.B) {
	labels := many(b, 1)
	var used time.Duration
	for b.Loop() {
		b.StopTimer()
		p := press()
		before := cpu()
		b.StartTimer()
		if err := p.PNG(io.Discard, labels, on(UsualSize, 203)); err != nil {
			b.Fatal(err)
		}
		used += cpu() - before
	}
	b.ReportMetric(used.Seconds()*1e3/float64(b.N), "cpu-ms/op")
}

// A press made, and its first label.
func BenchmarkPNG203New(b *testing.B) {
	labels, before := many(b, 1), cpu()
	for b.Loop() {
		if err := press().PNG(io.Discard, labels, on(UsualSize, 203)); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric((cpu()-before).Seconds()*1e3/float64(b.N), "cpu-ms/op")
}

func BenchmarkPDF1000Labels(b *testing.B) {
	labels := many(b, 1000)
	p, before := press(), cpu()
	for b.Loop() {
		if err := p.PDF(io.Discard, labels, on(UsualSize, 203), nil); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric((cpu()-before).Seconds()*1e3/float64(b.N), "cpu-ms/op")
}

// The most memory that the process had while it drew, from Linux.
func BenchmarkPDF1000LabelsPeak(b *testing.B) {
	labels := many(b, 1000)
	p := press()
	for b.Loop() {
		b.StopTimer()
		debug.FreeOSMemory()
		os.WriteFile("/proc/self/clear_refs", []byte("5"), 0) // forgets the peak, where it may
		b.StartTimer()
		if err := p.PDF(io.Discard, labels, on(UsualSize, 203), nil); err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(peak(), "peak-MB")
	}
	runtime.KeepAlive(labels)
}

// peak is the most memory the process has had, in megabytes; zero where the
// system does not say.
func peak() float64 {
	status, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return 0
	}
	_, after, _ := strings.Cut(string(status), "VmHWM:")
	kb, _ := strconv.ParseFloat(strings.Fields(after)[0], 64)
	return kb / 1024
}

// The symbols of 1,000 labels alone, encoded and not drawn.
func BenchmarkSymbols1000(b *testing.B) {
	labels := many(b, 1000)
	for b.Loop() {
		for i := range labels {
			if _, err := code128Matrix(labels[i].Code); err != nil {
				b.Fatal(err)
			}
			if _, err := qrMatrix(labels[i].Link); err != nil {
				b.Fatal(err)
			}
		}
	}
}

// The same symbols by the reference encoder, in two runs of it, each with all
// its texts, written to a file a symbol as that program does.
func BenchmarkReferenceEncoder1000(b *testing.B) {
	zint, err := exec.LookPath("zint")
	if err != nil {
		b.Skip("zint is not installed")
	}
	dir := b.TempDir()
	var codes, links strings.Builder
	for _, l := range many(b, 1000) {
		fmt.Fprintln(&codes, l.Code)
		fmt.Fprintln(&links, l.Link)
	}
	runs := map[string]string{"20": codes.String(), "58": links.String()} // Code 128 and QR
	for kind, text := range runs {
		if err := os.WriteFile(filepath.Join(dir, kind+".txt"), []byte(text), 0o600); err != nil {
			b.Fatal(err)
		}
	}
	for b.Loop() {
		for kind := range runs {
			args := []string{"-b", kind, "--secure=2", "--batch", "-i", filepath.Join(dir, kind+".txt"), "-o", filepath.Join(dir, kind+"-~~~~.svg")}
			if out, err := exec.Command(zint, args...).CombinedOutput(); err != nil {
				b.Fatalf("zint %q: %v\n%s", args, err, out)
			}
		}
	}
	if got, err := filepath.Glob(filepath.Join(dir, "*.svg")); err != nil || len(got) != 2000 {
		b.Fatalf("zint wrote %d files, want 2000: %v", len(got), err)
	}
}
