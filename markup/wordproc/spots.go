package wordproc

// Spot is where a paragraph begins in the chapters, once they are saved; zero
// for one that is in none.
type Spot struct {
	File string `json:"file,omitempty"`
	Line int    `json:"line,omitempty"`
}

// spot remembers where a paragraph begins.
func (m *Manuscript) spot(n int, s Spot) {
	if n <= 0 {
		return
	}
	for len(m.spots) <= n {
		m.spots = append(m.spots, Spot{})
	}
	if m.spots[n] == (Spot{}) {
		m.spots[n] = s
	}
}

// at is where paragraph n begins.
func (m *Manuscript) at(n int) Spot {
	if n <= 0 || n >= len(m.spots) {
		return Spot{}
	}
	return m.spots[n]
}
