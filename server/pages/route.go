package pages

import (
	"net/http"

	"github.com/gin-gonic/gin"
)

// Register adds every page to r.
func (p *Pages) Register(r *gin.Engine) {
	r.NoRoute(p.NotFound)
	r.GET("/static/:hash/*file", p.assets.serve)
	r.GET("/favicon.ico", func(c *gin.Context) { c.Redirect(http.StatusFound, p.assets.url("img/mark.svg")) })

	g := r.Group("/", guard)
	get := func(path string, h func(*gin.Context) error) { g.GET(path, p.handle(h)) }
	post := func(path string, h func(*gin.Context) error) { g.POST(path, p.handle(h)) }

	get("/", func(c *gin.Context) error { return seeOther(c, "/counter") })
	get("/counter", p.counter)
	post("/counter/issue", p.issue)
	get("/returns", p.returns)
	post("/returns", p.returnSpool)
	get("/receiving", p.receiving)
	post("/receiving", p.receive)

	get("/load", p.load)
	post("/load", p.loadSpool)
	post("/load/unload", p.unloadSpool)

	get("/spools", p.spools)
	get("/spools/:code", p.spool)
	get("/spools/:code/card", p.spoolCard)
	post("/spools/:code/:deed", p.changeSpool)
	get("/spools/:code/label.pdf", p.spoolLabelPDF)
	get("/spools/:code/label.png", p.spoolLabelPNG)

	get("/wires", p.wires)
	get("/wires/compare", p.compare)
	get("/wires/new", p.newWire)
	post("/wires", p.saveWire)
	get("/wires/import", p.importWires)
	post("/wires/import", p.checkImport)
	post("/wires/import/enter", p.enterImport)
	get("/wires/import/example.csv", p.importExample)
	get("/wires/:id", p.wire)
	post("/wires/:id", p.saveWire)
	get("/wires/:id/edit", p.editWire)
	post("/wires/:id/settle", p.settleWire)
	post("/wires/:id/sheets", p.attachSheet)
	get("/sheets/:id", p.sheet)
	get("/wires/:id/card", p.wireCard)
	get("/lots", p.lots)
	get("/lots/:id", p.lot)
	post("/lots/:id/status", p.changeLot)
	get("/lots/:id/labels.pdf", p.lotLabels)
	get("/jobs", p.jobs)
	get("/jobs/:code", p.job)
	get("/places", p.places)
	get("/alerts", p.alerts)

	get("/waivers", p.waivers)
	post("/waivers", p.askWaiver)
	get("/waivers/new", p.newWaiver)
	get("/waivers/:id", p.waiver)
	post("/waivers/:id/:deed", p.decideWaiver)
	get("/profiles", p.profiles)
	post("/profiles", p.copyProfile)
	get("/profiles/:id", p.profile)
	post("/profiles/:id", p.editProfile)
	post("/profiles/:id/limits", p.setLimit)
	post("/profiles/:id/confirm", p.confirmLimit)

	get("/find", p.find)
	get("/decode", p.decode)
	get("/names", p.names)
	post("/names", p.addName)
	post("/names/:id/retire", p.retireName)
	get("/problems/:code", p.problem)
}
