package strata

import "waterstrike/geo/soil"

// habits returns the region's habit of putting one layer on another, whatever the depth,
//
//	T = (1-q) I + q J,
//
// with q the chance that a layer ends within a cell and J the class that follows it.
// Each class is given half an interval of each other class, in proportion to how often
// that class starts a layer, so that what was never seen stays possible; a class without
// any closed interval is taken as 3 m thick, rock as 30 m: few logs go far into it, and
// softer ground below it is rare (common practice, no source).
func habits(logs [][]interval) *matrix {
	var starts, closed, cells row
	var follows matrix
	for _, log := range logs {
		for i, layer := range log {
			k := layer.class - 1
			starts[k]++
			cells[k] += float64(layer.to - layer.from)
			if layer.joined {
				above := log[i-1].class - 1
				closed[above]++
				follows[above][k]++
			}
		}
	}
	var out matrix
	for k := range out {
		out[k] = habit(k, &starts, follows[k], closed[k], cells[k])
	}
	return &out
}

func habit(k int, starts *row, follows row, closed, cells float64) row {
	const priorJumps = 0.5
	priorCells := 3 / CellM
	if soil.Class(k+1) == soil.Rock {
		priorCells = 30 / CellM
	}
	share := 0.0
	for j := range soil.Count {
		if j != k {
			share += starts[j] + 0.1
		}
	}
	for j := range follows {
		follows[j] += priorJumps * (starts[j] + 0.1) / share
	}
	follows[k] = 0
	normalise(&follows)
	end := (closed + 1) / (cells + priorCells)
	for j := range follows {
		follows[j] *= end
	}
	follows[k] = 1 - end
	return follows
}

// surface returns the odds of the first cell.
func surface(logs []Log) (odds row) {
	for _, log := range logs {
		if len(log.Cells) > 0 && known(log.Cells[0]) {
			odds[log.Cells[0]-1]++
		}
	}
	for k := range odds {
		odds[k] += 0.1
	}
	normalise(&odds)
	return odds
}
