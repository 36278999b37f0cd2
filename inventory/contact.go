package inventory

import (
	"context"
	"net/mail"
	"slices"
	"strings"
	"time"
)

// Contact is how alerts reach a person, and which do.
type Contact struct {
	Person  Code
	Name    string
	Role    Role
	Email   string      // empty: nothing is sent to them
	Retired bool        // their badge is good no more: nothing is sent to them
	Kinds   []AlertKind // in the order of [AlertKinds]; until somebody chooses, those of the role
	Version int         // counts the changes; zero until somebody makes one
}

// ContactReader looks up how people are reached.
type ContactReader interface {
	// Contact returns how a person is reached; [NotFound] if there is nobody.
	Contact(Code) (Contact, error)
	// Contacts returns everybody with a good badge and an address, by name.
	Contacts() ([]Contact, error)
}

// UsualKinds returns the kinds of alert that a person in the role is told of
// until somebody chooses others.
func (r Role) UsualKinds() []AlertKind {
	switch r {
	case Attendant:
		return []AlertKind{ExposureAlert, ExposureNearAlert, NotReturnedAlert, ClimateAlert, SilentAlert, LoggerAlert, ShelfLifeAlert, ShelfLifeNearAlert, CertificateAlert}
	case Buyer:
		return []AlertKind{ShelfLifeNearAlert, CertificateAlert, ReorderAlert}
	case Engineer:
		return []AlertKind{ExposureAlert, NotReturnedAlert, ClimateAlert, SilentAlert, ShelfLifeAlert, CertificateAlert, WaiverAlert}
	case Owner:
		return []AlertKind{ExposureAlert, SilentAlert, WaiverAlert}
	}
	return nil // a welder chooses
}

// ContactEntry is how somebody is reached, as they or the owner edit it.
type ContactEntry struct {
	Edit
	Of Contact
}

// ChangeContact writes e-mail address and kinds of the person e.Of.Person. They
// themselves and the owner may. Version zero is that of a contact that nobody
// changed yet.
func (l *Ledger) ChangeContact(ctx context.Context, e ContactEntry) (Contact, error) {
	deed := RecordEdited
	if e.Version == 0 {
		deed = RecordEntered
	}
	return changeRecord(ctx, l, recordDeed[Contact]{Edit: e.Edit, keeper: contactKeeper(), deed: deed, subject: string(e.Of.Person),
		wish: wish(deed, e.Of.Person, e.Version, e.Of.Email, e.Of.Kinds), may: e.may,
		decide: func(_ Tx, before Contact, _ time.Time) (Contact, []string, error) {
			if before.Version != e.Version {
				return before, nil, Conflictf("record-changed", "somebody changed how %s is reached, after you opened it: look at it again", before.Name)
			}
			after := before
			after.Email, after.Kinds = strings.TrimSpace(e.Of.Email), e.Of.Kinds
			if err := after.ready(); err != nil {
				return before, nil, err
			}
			return after, toldDifferences(differ(Difference{"e-mail", before.Email, after.Email}, Difference{"told of", kindsText(before.Kinds), kindsText(after.Kinds)})), nil
		}})
}

func (e ContactEntry) may(by Person) error {
	if by.Code == e.Of.Person || by.Role.MayEnterPeople() {
		return nil
	}
	return Forbiddenf("may-not-change-contact", "%s is somebody else: each says how they are reached, or the owner does", by.Name)
}

// ready puts the kinds in order and says what is wrong.
func (c *Contact) ready() error {
	var faults []FieldFault
	if c.Email != "" {
		if says := badAddress(c.Email); says != "" {
			faults = append(faults, FieldFault{"email", says})
		}
	}
	kinds, err := orderedKinds(c.Kinds)
	if err != nil {
		faults = append(faults, FieldFault{"kinds", detail(err)})
	}
	c.Kinds = kinds
	return faultsError(faults)
}

// badAddress says what is wrong with an e-mail address; empty if nothing is.
func badAddress(text string) string {
	const longest = 254 // RFC 5321 4.5.3.1.3, less the brackets
	a, err := mail.ParseAddress(text)
	if err != nil || a.Address != text || len(text) > longest || strings.ContainsFunc(text, func(r rune) bool { return r <= ' ' || r > '~' }) {
		return "write one address alone, such as store@yard.example"
	}
	return ""
}

// orderedKinds returns the kinds in the order of [AlertKinds], each once.
func orderedKinds(kinds []AlertKind) ([]AlertKind, error) {
	var out []AlertKind
	for _, k := range AlertKinds() {
		if slices.Contains(kinds, k) {
			out = append(out, k)
		}
	}
	for _, k := range kinds {
		if k == "" || CheckAlertKind(k) != nil {
			return nil, Invalidf("kinds", "there is no kind of alert called %q", clip(string(k)))
		}
	}
	return out, nil
}

func kindsText(kinds []AlertKind) string {
	texts := make([]string, len(kinds))
	for i, k := range kinds {
		texts[i] = string(k)
	}
	return strings.Join(texts, ", ")
}

func contactKeeper() recordKeeper[Contact] {
	return recordKeeper[Contact]{kind: ContactRecord,
		name:   func(c Contact) string { return "how " + c.Name + " is reached" },
		mark:   func(c *Contact) (string, *int) { return string(c.Person), &c.Version },
		read:   func(tx Tx, code string) (Contact, error) { return tx.Contact(Code(code)) },
		update: Tx.UpdateContact}
}
