package store

import (
	"maps"

	"wirehold/inventory"
)

// papersRow is what certificate and box say of a lot, as lots and the decisions
// about them keep it. Days are texts: 2026-03-02.
type papersRow struct {
	CertificateType     string
	CertificateSchedule string
	LotClass            string
	TestedOn            string
	MeltedIn            string
	MadeIn              string
	MadeOn              string
	ExpiresOn           string
	Sealing             string
	TestedExposure      string
}

// papersColumns are the columns of the papers, in the order in which they are
// scanned.
const papersColumns = `certificate_type, certificate_schedule, lot_class, tested_on, melted_in, made_in, made_on, expires_on, sealing, tested_exposure`

func (p *papersRow) scanned() []any {
	return []any{&p.CertificateType, &p.CertificateSchedule, &p.LotClass, &p.TestedOn, &p.MeltedIn, &p.MadeIn, &p.MadeOn, &p.ExpiresOn, &p.Sealing, &p.TestedExposure}
}

func (p papersRow) papers() inventory.LotPapers {
	return inventory.LotPapers{Type: p.CertificateType, Schedule: p.CertificateSchedule, LotClass: p.LotClass, Tested: inventory.Day(p.TestedOn),
		Melted: p.MeltedIn, Made: p.MadeIn, MadeOn: inventory.Day(p.MadeOn), Expires: inventory.Day(p.ExpiresOn), Sealing: p.Sealing, Exposure: p.TestedExposure}
}

func papersRowOf(p inventory.LotPapers) papersRow {
	return papersRow{p.Type, p.Schedule, p.LotClass, string(p.Tested), p.Melted, p.Made, string(p.MadeOn), string(p.Expires), p.Sealing, p.Exposure}
}

// updates adds the papers' columns to those of an update.
func (p papersRow) updates(other map[string]any) map[string]any {
	maps.Copy(other, map[string]any{"certificate_type": p.CertificateType, "certificate_schedule": p.CertificateSchedule, "lot_class": p.LotClass, "tested_on": p.TestedOn,
		"melted_in": p.MeltedIn, "made_in": p.MadeIn, "made_on": p.MadeOn, "expires_on": p.ExpiresOn, "sealing": p.Sealing, "tested_exposure": p.TestedExposure})
	return other
}
