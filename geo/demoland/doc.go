// Package demoland is an invented region of 60 by 60 km in the open ocean near 0° N 0° E
// whose ground is known exactly at every point.
//
// It is the demo that anyone can run, and the truth against which the science is tested:
// what a column holds, where the water stands on any date, what a crew would have found
// and whether a bore by stated rules would have become a lasting water point.
package demoland
