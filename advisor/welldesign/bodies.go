package welldesign

// seam is how many cells a layer needs to count as a body of water by itself: 0.3 m. A
// thinner seam within tight ground belongs to the body that it lies close to, and does not
// make two tight layers of one. Common practice, no source.
const seam = 3

// bodies numbers the runs of ground that give water: a tight parting of fewer than
// separating cells joins two of them, seams left out of the count.
func (c *column) bodies(separating int) {
	const far = -1 << 16 // the first run has none above it
	body, runEnd, mainEnd := -1, far, far
	hasMain := false // the body has a run that is no seam
	for start := 0; start < len(c.classes); start++ {
		end := start
		for end < len(c.classes) && Gives(c.classes[end]) {
			end++
		}
		if end == start {
			continue
		}
		main := end-start >= seam
		apart := start-runEnd >= separating || main && hasMain && start-mainEnd >= separating
		if apart {
			body, hasMain = body+1, false
		}
		for i := start; i < end; i++ {
			c.body[i] = body
		}
		runEnd = end
		if main {
			mainEnd, hasMain = end, true
		}
		start = end
	}
}
