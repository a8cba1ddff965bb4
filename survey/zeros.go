package survey

import "elbowroom/survey/network"

// Zero is the one error that all tape readings of a file have in common.
type Zero struct {
	File string
	Long float64 // how much they read too long, mm
	U    float64 // the standard uncertainty of that
}

// Zeros are what the readings make of the tapes' shared errors, which is taken
// off them: one of each file of tapes, where the job gives them a limit.
func (s *Space) Zeros() []Zero {
	if s.net == nil {
		return nil
	}
	var out []Zero
	for l, t := range s.net.adjusted.Net.Ties {
		if t.Kind != network.Common {
			continue
		}
		_, u := s.net.adjusted.Fitted(l)
		out = append(out, Zero{s.Rows[s.sources[s.net.source[l]].Row].Pos.File, s.net.adjusted.Common[t.Shared-1], u})
	}
	return out
}
