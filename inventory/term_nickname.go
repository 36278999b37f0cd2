package inventory

import (
	"context"
	"slices"
	"strings"
	"time"
	"unicode"

	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
)

// Nickname is the shop's own name for a sort of wire.
type Nickname struct {
	ID      int64
	Name    string // as it was entered
	Process fit.Process
	Person  Code // who entered it
	By      string
	At      time.Time
}

func (n Nickname) term() TradeTerm {
	return TradeTerm{Name: n.Name, Process: n.Process, Provenance: filler.Shop, Source: "entered by " + n.By + " on " + n.At.Format(time.DateOnly)}
}

// mostName is the longest nickname, in characters.
const mostName = 40

// AddNickname enters the shop's own name for a process. Only the welding
// engineer or the owner may: the error is [Forbidden] otherwise, [Invalid] for
// a name that already means something, and [Conflict] if it is a nickname.
func (l *Ledger) AddNickname(ctx context.Context, n Nickname) (Nickname, error) {
	n.Name = strings.Join(strings.Fields(n.Name), " ")
	if err := n.check(); err != nil {
		return Nickname{}, err
	}
	n.At = l.at()
	err := l.store.Write(ctx, func(tx Tx) error {
		person, err := mayName(tx, n.Person)
		if err != nil {
			return err
		}
		n.By = person.Name
		known, err := tx.Nicknames()
		if err != nil {
			return err
		}
		if i := slices.IndexFunc(known, func(k Nickname) bool { return plain(k.Name) == plain(n.Name) }); i >= 0 {
			return Conflictf("name-taken", "%q stands for %s already, entered by %s: retire that first", known[i].Name, known[i].Process, known[i].By)
		}
		n.ID, err = tx.AddNickname(n)
		return err
	})
	return n, err
}

func (n Nickname) check() error {
	letters := strings.IndexFunc(n.Name, unicode.IsLetter) >= 0
	switch terms := ProcessTerm(n.Name); {
	case !letters || len([]rune(n.Name)) > mostName:
		return Invalidf("name", "give a name of 1 to %d characters with a letter in it, such as \"bridge wire\"", mostName)
	case len(strings.Fields(n.Name)) > mostNameWords:
		return Invalidf("name", "a name has at most %d words", mostNameWords)
	case plain(n.Name) == "wire":
		return Invalidf("name", "every wire is called that")
	case len(terms) == 1:
		return Invalidf("name", "%q means %s everywhere: choose a name of your own", n.Name, terms[0].Process)
	case len(terms) > 1:
		return Invalidf("name", "%q is said of several sorts of wire, so it has to be asked which: choose a name of your own", n.Name)
	case !slices.Contains(TermProcesses(), n.Process):
		return Invalidf("process", "choose the process it stands for: %q is none", n.Process)
	}
	if _, err := ParseCode(n.Name); err == nil {
		return Invalidf("name", "%q reads like a code on a label", n.Name)
	}
	if size, _ := sizeAt(strings.Fields(n.Name)); size > 0 {
		return Invalidf("name", "%q begins with a size: choose a name without", n.Name)
	}
	return nil
}

// mayName returns the person if they may enter and retire nicknames.
func mayName(tx Tx, code Code) (Person, error) {
	person, err := badge(tx, code)
	if err != nil {
		return Person{}, err
	}
	if person.Role != Engineer && person.Role != Owner {
		return Person{}, Forbiddenf("may-not-name", "%s is a %s: the welding engineer says what names mean here", person.Name, person.Role)
	}
	return person, nil
}

// RetireNickname ends a nickname: it is understood no more, and kept with who
// ended it. The error is [NotFound] if it does not stand, [Forbidden] as in
// [Ledger.AddNickname].
func (l *Ledger) RetireNickname(ctx context.Context, id int64, badge Code) error {
	now := l.at()
	return l.store.Write(ctx, func(tx Tx) error {
		if _, err := mayName(tx, badge); err != nil {
			return err
		}
		return tx.RetireNickname(id, badge, now)
	})
}

// Nicknames returns the shop's own names that stand, by name.
func (l *Ledger) Nicknames(ctx context.Context) ([]Nickname, error) {
	return l.store.Read(ctx).Nicknames()
}

// Understand returns what is understood of a text typed into a search, by the
// trade's names and the shop's.
func (l *Ledger) Understand(ctx context.Context, text string) (Meaning, error) {
	nicknames, err := l.store.Read(ctx).Nicknames()
	if err != nil {
		return Meaning{}, err
	}
	return NewVocabulary(nicknames).Read(text), nil
}
