package clearance

import "sync"

// sizers are those that nobody works with now, for the next to take: what one of them says
// does not depend on what it was asked before.
type sizers struct {
	start func() *sizer
	mutex sync.Mutex
	idle  []*sizer
}

// take gives one, a new one where none is idle.
func (s *sizers) take() *sizer {
	if z := s.last(); z != nil {
		return z
	}
	return s.start()
}

func (s *sizers) last() *sizer {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	n := len(s.idle)
	if n == 0 {
		return nil
	}
	z := s.idle[n-1]
	s.idle = s.idle[:n-1]
	return z
}

// put gives one back.
func (s *sizers) put(z *sizer) {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	s.idle = append(s.idle, z)
}
