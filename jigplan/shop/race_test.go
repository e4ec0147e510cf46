//go:build race

package shop

// slow is how many times slower the program under test is.
const slow = 10
