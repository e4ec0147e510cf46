//go:build !unix

package main

func umask(mask int) int { return mask }
