package pages

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"net/http"
	"path"

	"github.com/gin-gonic/gin"
)

// assets serves the static files under one hash of them all, so that a file
// may name its neighbours and a browser may keep each for ever.
type assets struct {
	hash   string
	files  fs.FS
	styles []string // every style sheet, in order of name within its layer
	dev    bool
}

// cameraWorker reads the camera's pictures by WebAssembly.
const cameraWorker = "js/camera_worker.js"

// layers are the style sheets that come before those of the components.
var layers = [...]string{"tokens.css", "base.css", "layout.css"}

func newAssets(files fs.FS, dev bool) (assets, error) {
	static, err := fs.Sub(files, "static")
	if err != nil {
		return assets{}, fmt.Errorf("static files: %w", err)
	}
	a := assets{files: static, dev: dev}
	if a.hash, err = hashOf(static); err != nil {
		return assets{}, fmt.Errorf("static files: %w", err)
	}
	for _, name := range layers {
		a.styles = append(a.styles, "css/"+name)
	}
	components, err := fs.Glob(static, "css/components/*.css")
	if err != nil {
		return assets{}, fmt.Errorf("style sheets: %w", err)
	}
	a.styles = append(a.styles, components...)
	return a, nil
}

// hashOf returns a short hash of every file's name and content.
func hashOf(files fs.FS) (string, error) {
	h := sha256.New()
	err := fs.WalkDir(files, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		content, err := fs.ReadFile(files, name)
		if err != nil {
			return err
		}
		fmt.Fprintf(h, "%s %d ", name, len(content))
		h.Write(content)
		return nil
	})
	return hex.EncodeToString(h.Sum(nil))[:16], err
}

// url returns where the file is served: "/static/<hash>/css/base.css".
func (a assets) url(name string) string { return path.Join("/static", a.hash, name) }

// serve answers GET /static/:hash/*file. A hash of another version is not
// found, so that no browser keeps a new file under an old name.
func (a assets) serve(c *gin.Context) {
	if c.Param("hash") != a.hash {
		c.Status(http.StatusNotFound)
		return
	}
	name := path.Clean(c.Param("file"))[1:]
	if file, err := fs.Stat(a.files, name); err != nil || file.IsDir() {
		c.Status(http.StatusNotFound)
		return
	}
	keep := "public, max-age=31536000, immutable"
	if a.dev {
		keep = "no-store"
	}
	c.Header("Cache-Control", keep)
	if name == cameraWorker { // a worker obeys its own policy: this one compiles its reader
		c.Header("Content-Security-Policy", "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'")
	}
	http.ServeFileFS(c.Writer, c.Request, a.files, name)
}
