package main

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"golang.org/x/image/draw"

	"wirehold/inventory"
)

// onATable is the printed label of a spool as a camera sees it: on a grey table,
// filling most of the picture.
func (s *siteFixture) onATable(t *testing.T, spool inventory.Code) *image.Gray {
	t.Helper()
	status, _, body := s.do(t, "GET", "/spools/"+string(spool)+"/label.png", "", "")
	label, err := png.Decode(strings.NewReader(body))
	if status != 200 || err != nil {
		t.Fatalf("the label of %s: status %d, %v", spool, status, err)
	}
	table := image.NewGray(image.Rect(0, 0, 960, 720))
	draw.Draw(table, table.Bounds(), image.NewUniform(color.Gray{140}), image.Point{}, draw.Src)
	draw.BiLinear.Scale(table, image.Rect(30, 30, 930, 690), label, label.Bounds(), draw.Src, nil)
	return table
}

// video writes a camera's video of one frame in YUV4MPEG2.
func video(t *testing.T, frame *image.Gray) string {
	t.Helper()
	b := frame.Bounds()
	var out bytes.Buffer
	fmt.Fprintf(&out, "YUV4MPEG2 W%d H%d F5:1 Ip A1:1 C420jpeg\nFRAME\n", b.Dx(), b.Dy())
	out.Write(frame.Pix)
	out.Write(bytes.Repeat([]byte{128}, b.Dx()*b.Dy()/2)) // grey has no colour
	path := filepath.Join(t.TempDir(), "camera.y4m")
	if err := os.WriteFile(path, out.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestTheCameraScansInTheBrowser holds a printed label before the camera of a
// browser that has no bar code reader of its own.
func TestTheCameraScansInTheBrowser(t *testing.T) {
	t.Parallel()
	site := newSite(t)
	spool := site.spoolOf(t, "Amber Kestrel 71M")
	chrome := newBrowser(t, chromedp.Flag("use-fake-ui-for-media-stream", true), chromedp.Flag("use-fake-device-for-media-stream", true),
		chromedp.Flag("use-file-for-fake-video-capture", video(t, site.onATable(t, spool))))
	b := tab(t, chrome, site, "/counter")
	b.run(chromedp.Click("[data-camera-start]"), chromedp.WaitVisible(".tag-filled"))
	b.says(string(spool), "Amber Kestrel 71M")
}

// TestAPhotoScansInTheBrowser sends a photo of a printed label, and one of
// nothing.
func TestAPhotoScansInTheBrowser(t *testing.T) {
	t.Parallel()
	site := newSite(t)
	spool := site.spoolOf(t, "Amber Kestrel 71M")
	write := func(name string, picture image.Image) string {
		var out bytes.Buffer
		if err := jpeg.Encode(&out, picture, &jpeg.Options{Quality: 80}); err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(t.TempDir(), name)
		if err := os.WriteFile(path, out.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	b := tab(t, newBrowser(t), site, "/counter")
	send := func(path string) {
		b.run(chromedp.Click(".fold-summary"), chromedp.SetUploadFiles("#photo", []string{path}))
		b.tabTo(`form[action="/scan/photo"] .button`)
		b.enter()
	}
	send(write("nothing.jpg", image.NewGray(image.Rect(0, 0, 400, 300))))
	b.says("no bar code can be read")
	send(write("label.jpg", site.onATable(t, spool)))
	b.says(string(spool), "Amber Kestrel 71M")
}
