# What people really type. Everything lands in .bin, which git ignores.
export CGO_ENABLED ?= 0

build:
	go build -o .bin/batchwright ./cmd/batchwright

# Random tests draw the same cases each time; SEED=2 draws others, SEED=0 new ones.
SEED ?= 1
RANDOM := $(sort $(dir $(shell grep -rl --include='*_test.go' '"pgregory.net/rapid"' cmd orders nesting jigplan reports)))
RANDOM := $(RANDOM:%/=batchwright/%)
STEADY = $(filter-out $(RANDOM),$(shell go list ./...))

# what a newcomer runs: Go and make only, a few minutes
test:
	go test -vet=off -short -timeout 12m $(ARGS) $(RANDOM) -rapid.seed=$(SEED)
	go test -vet=off -short -timeout 12m $(ARGS) $(STEADY)

# every random draw, the office program and the browser; then the race detector
# (a C compiler is needed) with a fifth of the draws, where something runs side by
# side; the command's tests run it as a process, but for scripts with it inside
test-all:
	go test -vet=off -timeout 20m $(ARGS) $(RANDOM) -rapid.seed=$(SEED)
	go test -vet=off -timeout 20m $(ARGS) $(STEADY)
	CGO_ENABLED=1 go test -vet=off -race -short -timeout 20m $(ARGS) ./jigplan/improve ./jigplan/shop ./nesting/...
	CGO_ENABLED=1 go test -vet=off -race -short -timeout 20m $(ARGS) -run UnderTheRaceDetector ./cmd/...

bench:
	go test -run '^$$' -bench . -benchmem ./...

# SETS=quick|all|a name, LIMIT=seconds an instance, OUT=file for JSON lines
bench-sets:
	go run ./cmd/benchsets

# every text a user can meet, for reading: place, text
texts:
	@go test -count=1 ./cmd/batchwright -v -run TestTextsAreReadOnce -texts

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

# the pictures of README.md, from the demo order; needs LibreOffice, poppler-utils and Chromium
PAGES := .bin/pages
pictures: demo
	rm -rf $(PAGES) && mkdir -p $(PAGES)
	soffice --headless --convert-to pdf --outdir $(PAGES) .bin/demo-batch.xlsx >$(PAGES)/log
	@set -e; for picture in start:Summary board:Boards card:"Jig J4"; do \
		name=$${picture%%:*}; sheet=$${picture#*:}; \
		page=$$(pdftotext -layout $(PAGES)/demo-batch.pdf - | \
			awk -v RS='\f' -v at="$$sheet  *page [0-9]" '$$0 ~ at { print NR; exit }'); \
		pdftoppm -f $$page -l $$page -singlefile -r 60 -gray -png $(PAGES)/demo-batch.pdf testdata/readme/$$name; \
	done
	chromium --headless --no-sandbox --hide-scrollbars --window-size=500,888 --virtual-time-budget=2000 \
		--screenshot=testdata/readme/phone.png "file://$(CURDIR)/.bin/demo-count.html#r4i7n1d0.1" 2>>$(PAGES)/log

# puts batchwright where Go keeps programs: that folder must be on your PATH
install:
	go install ./cmd/batchwright
	@echo "installed batchwright in $$(d=$$(go env GOBIN); echo $${d:-$$(go env GOPATH)/bin})"

# a zip for each system, with checksums, in .bin/release
release:
	go run ./cmd/release .bin/release

.PHONY: reference pictures install release build test test-all bench bench-sets lint demo
