# What people really type. Everything lands in .bin, which git ignores.
export CGO_ENABLED ?= 0

build:
	go build -o .bin/batchwright ./cmd/batchwright

# Everything as it is, then under the race detector all that it can tell more of:
# with a fifth of the random draws, and without the programs that are not ours.
test:
	go test -vet=off -timeout 20m $(ARGS) ./...
	CGO_ENABLED=1 go test -vet=off -race -short -timeout 20m $(ARGS) ./...

# every draw and every process under the race detector
test-race:
	CGO_ENABLED=1 go test -race -timeout 60m $(ARGS) ./...

bench:
	go test -run '^$$' -bench . -benchmem ./...

# SETS=quick|all|a name, LIMIT=seconds an instance, OUT=file for JSON lines
bench-sets:
	go run ./cmd/benchsets

lint:
	test -z "$$(gofmt -l cmd orders nesting jigplan reports)"
	go vet ./...
	go run honnef.co/go/tools/cmd/staticcheck@v0.8.2 ./...

demo: build
	.bin/batchwright plan testdata/orders/demo.xlsx -o .bin/demo-batch.xlsx

.PHONY: build test test-race bench bench-sets lint demo
