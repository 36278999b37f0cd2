package filler

// joins is what a hyphen or a slash means by itself.
const joins = "joins the parts"

// hydrogen reads the optional hydrogen designator that ends a designation of
// the A5 series, with or without its hyphen, and then the end. after says what
// else could have stood there.
func (r *reading) hydrogen(s *scanner, keys keySet, after string) *SyntaxError {
	hyphen, start := s.eat('-'), s.pos
	key, ok := s.longest(keys)
	switch {
	case r.repeated != "" && key != r.repeated:
		return s.failAt(s.at[start], "the other class has "+r.repeated+": one wire has one hydrogen designator")
	case ok:
		r.put("-", joins)
		r.putHydrogen(key)
	case hyphen || s.peek() == 'H':
		return s.failNear(keys, "a hydrogen designator is "+keys.words)
	}
	if !s.end() {
		return s.fail("nothing of " + r.table.spec + " stands here" + after)
	}
	return nil
}

// repeatedHydrogen passes over the hydrogen designator of a class behind which
// another class follows, "E71T-1C-H8/E71T-1M-H8"; hydrogen holds the two equal.
func (r *reading) repeatedHydrogen(s *scanner, keys keySet) {
	start := s.pos
	s.eat('-')
	key, ok := s.longest(keys)
	if !ok || s.peek() != '/' {
		s.pos = start
		return
	}
	r.repeated = key
}

// putHydrogen writes a hydrogen designator with what it gives.
func (r *reading) putHydrogen(key string) {
	rows := r.table.at("supplementary", key)
	r.add(rows, r.put(key, "diffusible hydrogen at most "+rows[0].Value+" "+rows[0].Unit))
}

// keysWith returns the keys that begin so.
func keysWith(keys []string, prefix string) []string {
	var out []string
	for _, k := range keys {
		if len(k) > len(prefix) && k[:len(prefix)] == prefix {
			out = append(out, k)
		}
	}
	return out
}
