//go:build !race

package shop

const slow = 1
