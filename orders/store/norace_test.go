//go:build !race

package store

const slow = 1
