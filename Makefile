# What people really type. Everything lands in .bin, which git ignores.
export CGO_ENABLED ?= 0

build:
	go build -o .bin/batchwright ./cmd/batchwright

# what a newcomer runs: Go and make only, a few minutes
test:
	go test -vet=off -short -timeout 12m $(ARGS) ./...

# every random draw, the office program and the browser; then the race detector
# (a C compiler is needed) with a fifth of the draws
test-all:
	go test -vet=off -timeout 20m $(ARGS) ./...
	CGO_ENABLED=1 go test -vet=off -race -short -timeout 20m $(ARGS) ./...

bench:
	go test -run '^$$' -bench . -benchmem ./...

# SETS=quick|all|a name, LIMIT=seconds an instance, OUT=file for JSON lines
bench-sets:
	go run ./cmd/benchsets

lint:
	test -z "$$(gofmt -l cmd orders nesting jigplan reports)"
	go vet ./...
	go run honnef.co/go/tools/cmd/staticcheck@v0.8.2 ./...

# before a move of code and after it: every JSON and workbook stays as it was
REFERENCE ?= .bin/reference
reference:
	mkdir -p $(REFERENCE)
	go test ./cmd/batchwright -count=1 -run TestReference -reference $(abspath $(REFERENCE))

demo: build
	.bin/batchwright plan testdata/orders/demo.xlsx -o .bin/demo-batch.xlsx

# puts batchwright where Go keeps programs: that folder must be on your PATH
install:
	go install ./cmd/batchwright
	@echo "installed batchwright in $$(d=$$(go env GOBIN); echo $${d:-$$(go env GOPATH)/bin})"

# a zip for each system, with checksums, in .bin/release
release:
	go run ./cmd/release .bin/release

.PHONY: reference install release build test test-all bench bench-sets lint demo
