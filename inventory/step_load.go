package inventory

import "strings"

// loaded puts a spool on a feeder. Whose spool it is does not change, and its
// exposure runs on: it hangs in the open.
func loaded(s Spool, m Movement) (Spool, error) {
	switch {
	case s.Loaded():
		return s, s.onFeeder()
	case !s.Out():
		return s, Refusedf("spool-not-issued", "spool %s is in the store: have it issued at the counter first", s.Code)
	case m.Job != "" && m.Job != s.Job:
		return s, Conflictf("spool-other-job", "spool %s is out for another job", s.Code)
	case s.Held != "":
		return s, Refusedf("spool-on-hold", "spool %s is on hold: %s", s.Code, s.Held)
	case m.To == "":
		return s, Invalidf("feeder", "say which feeder spool %s goes on", s.Code)
	case !s.Opened():
		return s, Refusedf("spool-sealed", "spool %s is sealed: open it first", s.Code)
	case s.Net == 0:
		return s, Refusedf("spool-empty", "spool %s is empty: scrap it", s.Code)
	case strings.TrimSpace(m.Reason) == "":
		return s, Invalidf("confirmed", "say how the machine is set")
	}
	s.Feeder = m.To
	return s, nil
}

// unloaded takes a spool off its feeder. It stays out, with whoever has it.
func unloaded(s Spool, m Movement) (Spool, error) {
	if !s.Loaded() {
		return s, Conflictf("spool-not-loaded", "spool %s is on no feeder", s.Code)
	}
	if m.To != "" && m.To != s.Feeder {
		return s, Invalidf("feeder", "spool %s is on another feeder", s.Code)
	}
	s.Feeder = ""
	return s, nil
}

// onFeeder is the conflict over a spool that is on a feeder.
func (s Spool) onFeeder() error {
	return Conflictf("spool-loaded", "spool %s is on feeder %s: unload it first", s.Code, s.Feeder)
}
