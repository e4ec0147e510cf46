//go:build !race

package intake

const raceDetector = false
