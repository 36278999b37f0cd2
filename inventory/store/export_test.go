package store

// Waiting returns how many writes wait for their turn.
func (s *Store) Waiting() int {
	s.writer.mu.Lock()
	defer s.writer.mu.Unlock()
	return len(s.writer.waiting)
}
