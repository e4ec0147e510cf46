//go:build race

package intake

const raceDetector = true
