package filler

// rank orders provenances by how far a fact counts: the shop's own word first.
func (p Provenance) rank() int {
	switch p {
	case Shop:
		return 4
	case DataSheet:
		return 3
	case Published:
		return 2
	case Memory:
		return 1
	}
	return 0
}

// Best returns the fact called name that counts most: the shop's, then the
// data sheet's, a published one, one from memory. Common practice is advice
// and never returned. ok is false where nobody supplied the fact.
func (fs Facts) Best(name string) (best Fact, ok bool) {
	for _, f := range fs {
		if f.Name == name && f.Provenance.rank() > 0 && (!ok || f.Provenance.rank() > best.Provenance.rank()) {
			best, ok = f, true
		}
	}
	return best, ok
}

// Sure reports whether f may be relied on without a look at the box.
func (f Fact) Sure() bool {
	return f.Provenance.rank() >= Published.rank() && f.Condition != "label made to the 1995 edition"
}

// Authority says in one line where f comes from: the publication, sheet or
// person, or that it is from memory or common practice.
func (f Fact) Authority() string {
	switch f.Provenance {
	case Memory:
		return "from memory: confirm on the box"
	case Practice:
		return "common practice"
	case DataSheet:
		return "data sheet: " + f.Source
	case Shop:
		return "shop: " + f.Source
	}
	return f.Source
}
