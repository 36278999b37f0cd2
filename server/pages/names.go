package pages

import (
	"net/http"
	"slices"
	"strconv"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// NamesPage lists what people call a wire.
type NamesPage struct {
	Base
	Nicknames []NicknameLine
	Trade     []TradeNames
	Form      Form
}

// NicknameLine is one nickname with the form that ends it.
type NicknameLine struct {
	inventory.Nickname
	Words  string
	Retire Form
}

// TradeNames is what the trade calls one process; or, with several processes
// in its label, the names that ask which.
type TradeNames struct {
	Label, Words string
	Names        []string
}

// names answers GET /names.
func (p *Pages) names(c *gin.Context) error {
	page, err := p.namesPage(c)
	if err != nil {
		return err
	}
	switch c.Query("done") {
	case "added":
		page.Flash = "The name is understood from now on."
	case "retired":
		page.Flash = "The name is retired."
	}
	return p.show(c, http.StatusOK, "names", page)
}

func (p *Pages) namesPage(c *gin.Context) (*NamesPage, error) {
	nicknames, err := p.Ledger.Nicknames(c.Request.Context())
	if err != nil {
		return nil, err
	}
	page := &NamesPage{Base: p.base(c, "Names", ""), Trade: tradeNames(), Form: nameForm()}
	for _, n := range nicknames {
		page.Nicknames = append(page.Nicknames, NicknameLine{n, inventory.ProcessWords(n.Process), retireForm(n.ID)})
	}
	return page, nil
}

func nameForm() Form {
	choices := []Option{{Label: "Choose what it stands for"}}
	for _, p := range inventory.TermProcesses() {
		choices = append(choices, Option{Value: string(p), Label: string(p) + ": " + inventory.ProcessWords(p)})
	}
	return Form{Name: "name", Action: "/names", Submit: "Enter the name"}.fields(
		badgeField(""),
		Field{Name: "name", Label: "Name", Type: "text", Required: true, Hint: "As it is said in the shop, such as \"bridge wire\""},
		Field{Name: "process", Label: "Stands for", Type: "select", Required: true, Options: choices},
	)
}

func retireForm(id int64) Form {
	key := strconv.FormatInt(id, 10)
	return Form{Name: "retire-" + key, Action: "/names/" + key + "/retire", Submit: "Retire the name", Tone: "stop"}.fields(badgeField(""))
}

// tradeNames groups the names of the trade by what they stand for; those that
// ask which come last.
func tradeNames() []TradeNames {
	var out []TradeNames
	var unclear TradeNames
	for _, process := range inventory.TermProcesses() {
		g := TradeNames{Label: string(process), Words: inventory.ProcessWords(process)}
		for _, t := range inventory.TradeTerms() {
			switch several := len(inventory.ProcessTerm(t.Name)) > 1; {
			case several && !slices.Contains(unclear.Names, t.Name):
				unclear.Names = append(unclear.Names, t.Name)
			case !several && t.Process == process:
				g.Names = append(g.Names, t.Name)
			}
		}
		out = append(out, g)
	}
	unclear.Label, unclear.Words = "Asks which", "said of several sorts of wire"
	return append(out, unclear)
}

// addName answers POST /names.
func (p *Pages) addName(c *gin.Context) error {
	in := p.posted(c)
	n := inventory.Nickname{Person: in.badge(), Name: in.get("name"), Process: fit.Process(in.get("process"))}
	err := in.err()
	if err == nil {
		_, err = p.Ledger.AddNickname(c.Request.Context(), n)
	}
	if err == nil {
		return seeOther(c, "/names?done=added")
	}
	return p.namesAgain(c, err, func(page *NamesPage) { page.Form = page.Form.filled(in.get, err) })
}

// retireName answers POST /names/:id/retire.
func (p *Pages) retireName(c *gin.Context) error {
	id, err := number(c, "id")
	if err != nil {
		return err
	}
	in := p.posted(c)
	badge := in.badge()
	if err = in.err(); err == nil {
		err = p.Ledger.RetireNickname(c.Request.Context(), id, badge)
	}
	if err == nil {
		return seeOther(c, "/names?done=retired")
	}
	return p.namesAgain(c, err, func(page *NamesPage) {
		for i := range page.Nicknames {
			if n := &page.Nicknames[i]; n.ID == id {
				n.Retire = n.Retire.filled(in.get, err)
			}
		}
	})
}

// namesAgain shows the page once more with what was wrong.
func (p *Pages) namesAgain(c *gin.Context, err error, fill func(*NamesPage)) error {
	if !again(err) {
		return err
	}
	page, errPage := p.namesPage(c)
	if errPage != nil {
		return errPage
	}
	fill(page)
	page.Trouble = trouble(c, err)
	return p.show(c, page.Trouble.status(), "names", page)
}
