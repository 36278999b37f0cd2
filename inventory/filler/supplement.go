package filler

// joins is what a hyphen or a slash means by itself.
const joins = "joins the parts"

// hydrogen reads the optional hydrogen designator that ends a designation of
// the A5 series, with or without its hyphen, and then the end. after says what
// else could have stood there.
func (r *reading) hydrogen(s *scanner, keys keySet, after string) *SyntaxError {
	hyphen := s.eat('-')
	key, ok := s.longest(keys)
	switch {
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
