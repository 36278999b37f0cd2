package fit

import (
	"testing"
	"time"
)

// on is a spool of wire of which o changes some things, checked today.
func on(o Offer, change func(*Offer)) Offer {
	o.At = today
	change(&o)
	return o
}

func ago(months int) time.Time { return today.AddDate(0, -months, 0) }

func TestCheckCertificate(t *testing.T) {
	with := func(c Certificate) Offer { return on(spool(wire1C()), func(o *Offer) { o.Certificate = c }) }
	wants := func(c Certificate) Demand { return Demand{Certificate: c} }
	numbered := func(kind, schedule, class string) Offer {
		return with(Certificate{Number: "MTC-7", Type: kind, Schedule: schedule, LotClass: class})
	}
	tested := func(months int) Offer { return with(Certificate{Number: "MTC-7", Tested: ago(months)}) }
	runCases(t, []fitCase{
		{"a job that asks for none takes a lot without", code + "C080", spool(wire1C()), Demand{}, nil, "structural-steel", RuleCertificate, NotDemanded, ""},
		{"a certificate that is demanded must be on file", code + "C089", spool(wire1C()), wants(Certificate{Type: "2.1"}), nil, "", RuleCertificate, Stops, "No certificate of this lot is on file"},
		{"3.1 meets 3.1", code + "C086", numbered("3.1", "", ""), wants(Certificate{Type: "3.1"}), nil, "", RuleCertificate, Passed, ""},
		{"3.2 meets 3.1", code + "C086", numbered("3.2", "", ""), wants(Certificate{Type: "3.1"}), nil, "", RuleCertificate, Passed, ""},
		{"2.2 does not meet 3.1", code + "C086 typical values", numbered("2.2", "", ""), wants(Certificate{Type: "3.1"}), nil, "", RuleCertificate, Stops, "is 2.2 by EN 10204"},
		{"2.1 does not meet 2.2", code + "C086", numbered("2.1", "", ""), wants(Certificate{Type: "2.2"}), nil, "", RuleCertificate, Stops, ""},
		{"a certificate of unknown type stops", design, numbered("", "", ""), wants(Certificate{Type: "3.1"}), nil, "", RuleCertificate, Stops, "Nobody has recorded"},
		{"a type that does not exist is for the engineer", design, numbered("3.1", "", ""), wants(Certificate{Type: "4.0"}), nil, "", RuleCertificate, Stops, "ask the engineer"},
		{"schedule J meets H", code + "C057 C059", numbered("", "J", ""), wants(Certificate{Schedule: "H"}), nil, "", RuleCertificate, Passed, ""},
		{"schedule G does not meet H", code + "C056 typical report", numbered("", "G", ""), wants(Certificate{Schedule: "H"}), nil, "", RuleCertificate, Stops, "schedule is G"},
		{"schedule 5 is J", code + "C059", numbered("", "5", ""), wants(Certificate{Schedule: "J"}), nil, "", RuleCertificate, Passed, ""},
		{"schedule 1 is F", code + "C055", numbered("", "1", ""), wants(Certificate{Schedule: "F"}), nil, "", RuleCertificate, Passed, ""},
		{"schedule 2 is G and does not meet H", code + "C056", numbered("", "2", ""), wants(Certificate{Schedule: "H"}), nil, "", RuleCertificate, Stops, ""},
		{"an unknown schedule stops", design, numbered("", "", ""), wants(Certificate{Schedule: "F"}), nil, "", RuleCertificate, Stops, "Nobody has recorded"},
		{"schedule K wants its list looked at", code + "C060", numbered("", "K", ""), wants(Certificate{Schedule: "6"}), nil, "", RuleCertificate, Caution, "what the buyer listed"},
		{"schedule K stands for no other", code + "C060", numbered("", "K", ""), wants(Certificate{Schedule: "H"}), nil, "", RuleCertificate, Stops, "stands for no other"},
		{"no other stands for schedule K", code + "C060", numbered("", "J", ""), wants(Certificate{Schedule: "K"}), nil, "", RuleCertificate, Stops, "stands for no other"},
		{"an unknown schedule is not K", design, numbered("", "", ""), wants(Certificate{Schedule: "K"}), nil, "", RuleCertificate, Stops, "Nobody has recorded the testing schedule"},
		{"a schedule that does not exist is for the engineer", design, numbered("", "K", ""), wants(Certificate{Schedule: "Z"}), nil, "", RuleCertificate, Stops, "ask the engineer"},
		{"lot class T4 is one of T3 and T4", code + "C069", numbered("", "", "T4"), wants(Certificate{LotClass: "T3|T4"}), nil, "", RuleCertificate, Passed, ""},
		{"lot class T1 is none of them", code + "C066", numbered("", "", "T1"), wants(Certificate{LotClass: "T3|T4"}), nil, "", RuleCertificate, Stops, "class T1"},
		{"an unknown lot class stops", design, numbered("", "", ""), wants(Certificate{LotClass: "T4"}), nil, "", RuleCertificate, Stops, "read the certificate"},
		{"tests of eleven months ago are new enough", code + "C081", tested(11), Demand{}, nil, "general-shop", RuleCertificate, Caution, "from practice"},
		{"tests of thirteen months ago are a warning", code + "C081 warn", tested(13), Demand{}, nil, "general-shop", RuleCertificate, Caution, "more than 12 months ago"},
		{"tests of a day, and nobody says what day it is", design, on(tested(1), func(o *Offer) { o.At = time.Time{} }), Demand{}, nil, "general-shop", RuleCertificate, Caution, "Nobody has recorded when"},
		{"tests on a day nobody recorded are not asked about", code + "C081", with(Certificate{Number: "MTC-7"}), Demand{}, nil, "general-shop", RuleCertificate, NotDemanded, ""},
	})
}

func TestCheckShelfLife(t *testing.T) {
	made := func(months int, sealing string) Offer {
		return on(spool(wire1C()), func(o *Offer) { o.Made, o.Sealing = ago(months), sealing })
	}
	solidMade := func(months int) Offer { return on(spool(solidWire()), func(o *Offer) { o.Made = ago(months) }) }
	expires := func(days int) Offer {
		return on(spool(wire1C()), func(o *Offer) { o.Expires = today.AddDate(0, 0, days) })
	}
	limited := func(months int) Offer {
		return on(spool(with(wire1C(), sheet("shelf_life", "24 months", ""))), func(o *Offer) { o.Made = ago(months) })
	}
	received := on(spool(with(wire1C(), sheet("shelf_life", "24 months", ""))), func(o *Offer) { o.Received = ago(25) })
	fresh := on(spool(with(wire1C(), sheet("shelf_life", "24 months", ""))), func(o *Offer) { o.Received = ago(1) })
	runCases(t, []fitCase{
		{"no code sets an expiry", exposed + "E086", spool(wire1C()), Demand{}, nil, "structural-steel", RuleShelfLife, NotDemanded, ""},
		{"flux cored wire in foil keeps five years", exposed + "E077", made(59, VacuumFoil), Demand{}, nil, "general-shop", RuleShelfLife, Passed, "5 years"},
		{"flux cored wire in foil past five years is a warning", exposed + "E077 warn", made(61, VacuumFoil), Demand{}, nil, "general-shop", RuleShelfLife, Caution, "inspect and test it"},
		{"flux cored wire in a bag keeps one year", exposed + "E078", made(11, "plastic bag"), Demand{}, nil, "general-shop", RuleShelfLife, Passed, "1 year"},
		{"flux cored wire in a bag past one year is a warning", exposed + "E078 warn", made(13, "plastic bag"), Demand{}, nil, "general-shop", RuleShelfLife, Caution, "1 year"},
		{"wire of unknown package is held to the lesser", exposed + "E078", made(13, ""), Demand{}, nil, "general-shop", RuleShelfLife, Caution, "1 year"},
		{"solid carbon wire keeps three years", exposed + "E079", solidMade(35), Demand{}, nil, "general-shop", RuleShelfLife, Passed, "3 years"},
		{"solid carbon wire past three years is a warning", exposed + "E079 warn", solidMade(37), Demand{}, nil, "general-shop", RuleShelfLife, Caution, "3 years"},
		{"before the date on the box", design, expires(1), Demand{}, nil, "", RuleShelfLife, Passed, "use by 2026-03-03"},
		{"on the date on the box", design, expires(0), Demand{}, nil, "", RuleShelfLife, Passed, ""},
		{"past the date on the box", design, expires(-2), Demand{}, nil, "", RuleShelfLife, Stops, "that is past"},
		{"a date on the box and nobody says what day it is", design, on(spool(wire1C()), func(o *Offer) { o.At, o.Expires = time.Time{}, today }), Demand{}, nil, "", RuleShelfLife, Caution, "calendar"},
		{"within what the sheet allows", exposed + "E086 a maker's rule", limited(23), Demand{}, nil, "", RuleShelfLife, Passed, "24 months"},
		{"past what the sheet allows stops", design, limited(25), Demand{}, nil, "", RuleShelfLife, Stops, "its data sheet allows"},
		{"a limit on the sheet and no date stops", design, spool(with(wire1C(), sheet("shelf_life", "24 months", ""))), Demand{}, nil, "", RuleShelfLife, Stops, "Nobody has recorded when"},
		{"received longer ago than the sheet allows stops", design, received, Demand{}, nil, "", RuleShelfLife, Stops, "received on 2024-02-02"},
		{"received lately says nothing of the day it was made", design, fresh, Demand{}, nil, "", RuleShelfLife, Stops, "Nobody has recorded when"},
		{"a shelf life nobody can read stops", design, on(spool(with(wire1C(), sheet("shelf_life", "long", ""))), func(o *Offer) { o.Made = today }), Demand{}, nil, "", RuleShelfLife, Stops, "cannot be read"},
	})
}

func TestCheckOrigin(t *testing.T) {
	from := func(melted, made []string) Offer {
		return on(spool(wire1C()), func(o *Offer) { o.Origin = Origin{Melted: melted, Made: made} })
	}
	here := []string{"home"}
	clause := Demand{Origin: Origin{Melted: here, Made: here, Clause: "melted and made at home"}}
	madeOnly := Demand{Origin: Origin{Made: []string{"home", "next door"}}}
	runCases(t, []fitCase{
		{"no clause asks nothing", design, spool(wire1C()), Demand{}, nil, "", RuleOrigin, NotDemanded, ""},
		{"melted and made at home", code + "C100", from(here, here), clause, nil, "", RuleOrigin, Passed, ""},
		{"drawn at home from foreign rod", code + "C102", from([]string{"abroad"}, here), clause, nil, "", RuleOrigin, Stops, "melted in abroad"},
		{"melted at home and drawn abroad", code + "C100", from(here, []string{"abroad"}), clause, nil, "", RuleOrigin, Stops, "made in abroad"},
		{"capital letters make no other country", design, from([]string{"Home"}, []string{"HOME"}), clause, nil, "", RuleOrigin, Passed, ""},
		{"a code is the country it stands for", design + ", ISO 3166-1", from([]string{"276"}, []string{"DE"}), Demand{Origin: Origin{Melted: []string{"Germany"}, Made: []string{"Austria", "deu"}}}, nil, "", RuleOrigin, Passed, ""},
		{"and no other", design + ", ISO 3166-1", from([]string{"AT"}, nil), Demand{Origin: Origin{Melted: []string{"Germany"}}}, nil, "", RuleOrigin, Stops, "melted in AT"},
		{"a group of countries is none of them", design + ", ISO 3166-1", from([]string{"DE"}, nil), Demand{Origin: Origin{Melted: []string{"EU"}}}, nil, "", RuleOrigin, Stops, "melted in DE"},
		{"an unknown melt stops", code + "C102", from(nil, here), clause, nil, "", RuleOrigin, Stops, "Nobody has recorded where this lot was melted"},
		{"an unknown origin stops", design, spool(wire1C()), clause, nil, "", RuleOrigin, Stops, "Nobody has recorded"},
		{"one of two countries will do", design, from(nil, []string{"next door"}), madeOnly, nil, "", RuleOrigin, Passed, ""},
		{"made partly abroad stops", code + "C100 all manufacturing", from(nil, []string{"home", "abroad"}), madeOnly, nil, "", RuleOrigin, Stops, "made in abroad"},
		{"a clause that names no country is for the engineer", code + "C104 check the wording", from(here, here), Demand{Origin: Origin{Clause: "clause 12"}}, nil, "", RuleOrigin, Stops, "names no country"},
	})
}
