# The commands of this project. Everything works from a clean clone on Debian with
# Go; the network is asked only for Go modules and, once, for Debian's Chromium.
.NOTPARALLEL:
SHELL := /bin/bash
.SHELLFLAGS := -euo pipefail -c

OUT  ?= dist
ADDR ?= localhost:8080

# Packages that also run in the browser and are tested there: everything below the
# screen, commands aside. Go's programs in WebAssembly have little room for the
# environment: pass little.
BELOW    = $$(go list ./refrig/... ./chart/... ./app/job/... ./app/present/... | grep -v /cmd/)
WASM_GO  = GOOS=js GOARCH=wasm go test -exec="env -i PATH=$$PATH HOME=$$HOME $$(go env GOROOT)/lib/wasm/go_js_wasm_exec"

.PHONY: help
help: ## list the targets
	@grep -hE '^[a-z-]+:.*##' Makefile | sed -E 's/:.*## /\t/' | expand -t 14

.PHONY: run build
run: build ## build the site and serve it; prints the address (ADDR=localhost:8080, a free port if taken)
	go run ./app/cmd/site serve -dir $(OUT) -addr $(ADDR)

build: ## compile the program for the browser and write the static site (OUT=dist; TIGHT=1 for a release: a minute longer, an eighth smaller)
	go run ./app/cmd/site build -out $(OUT) $(if $(TIGHT),-tight)

.PHONY: test test-fast test-wasm test-browser test-browsers test-loaded walk chromium browsers axe
test: lint generated test-fast test-wasm test-browser ## everything: what CI runs

test-fast: ## all tests that need no browser
	go test -timeout 30m $$(go list ./... | grep -v /app/browsertest)

test-wasm: ## the packages below the screen, compiled to WebAssembly, under Node (if there is one)
	@if ! command -v node >/dev/null; then echo 'test-wasm: no Node here, left out'; exit 0; fi; \
	echo 'The packages below the screen, as WebAssembly under Node:'; $(WASM_GO) -short -vet=off -timeout 20m $(BELOW)

test-browser: chromium axe ## the built site in Chromium: readings, offline, updates, restarts
	go test -count=1 -timeout 45m ./app/browsertest/...

# A browser that cannot run is a failure here. ENGINE=firefox or webkit for one alone.
ENGINE ?= firefox webkit
test-browsers: browsers ## the same tests in Firefox and in WebKit, Safari's engine (ENGINE=webkit ONLY=Offline)
	@bad=; for b in $(ENGINE); do echo "Browser tests in $$b:"; \
	  ENGINE=$$b go test -count=1 -timeout 40m -run '$(ONLY)' ./app/browsertest/... || bad="$$bad $$b"; done; \
	[ -z "$$bad" ] || { echo "Failed in:$$bad"; exit 1; }

# The loops end with the shell that started them, even if that is killed.
N ?= 10
test-loaded: chromium axe ## test-browser N times while a loop keeps every core busy (N=10); for waits that are too short
	@mkdir -p .cache; loops=(); bad=0; \
	trap 'kill "$${loops[@]}" 2>/dev/null || true' EXIT; trap 'exit 130' INT TERM HUP; \
	for core in $$(seq "$$(nproc)"); do (while kill -0 $$$$ 2>/dev/null; do :; done) & loops+=($$!); done; \
	for i in $$(seq $(N)); do echo "Browser tests under load, $$i of $(N):"; \
	  go test -count=1 -timeout 40m ./app/browsertest/... 2>&1 | tee .cache/loaded-$$i.txt || bad=$$((bad + 1)); done; \
	echo "$$bad of $(N) runs failed; what they said is in .cache/loaded-*.txt"; [ "$$bad" = 0 ]

STEPS ?= 2000
SEED  ?= $(shell date +%s)
walk: chromium ## a random user in Chromium; a failing walk says its shortest steps (STEPS=2000 SEED=any)
	WALK_STEPS=$(STEPS) WALK_SEED=$(SEED) go test -count=1 -v -timeout 60m -run '^TestRandomUser$$' ./app/browsertest

chromium: ## install Chromium where there is none (apt-get)
	@for c in "$${CHROMIUM:-}" chromium chromium-browser google-chrome; do \
	  if [ -n "$$c" ] && command -v "$$c" >/dev/null; then exit 0; fi; done; \
	sudo=; [ "$$(id -u)" = 0 ] || sudo=sudo; \
	echo 'Installing Chromium for the browser tests'; \
	$$sudo apt-get update -q && \
	$$sudo env DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends chromium fonts-dejavu-core

browsers: ## install Firefox and WebKit, with what drives them, where they are missing (apt-get)
	@if { [ -n "$${FIREFOX:-}" ] || command -v firefox-esr || command -v firefox; } >/dev/null && \
	  command -v WebKitWebDriver >/dev/null && command -v Xvfb >/dev/null && \
	  /usr/bin/python3 -c 'import gi; gi.require_version("WebKit2", "4.1")' 2>/dev/null; then exit 0; fi; \
	sudo=; [ "$$(id -u)" = 0 ] || sudo=sudo; \
	echo 'Installing Firefox and WebKit for the browser tests'; \
	$$sudo apt-get update -q && \
	$$sudo env DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends \
	  firefox-esr webkit2gtk-driver xvfb python3-gi gir1.2-webkit2-4.1 fonts-dejavu-core

# axe-core (MPL-2.0) looks over the built pages in the browser tests and is no part of
# the site; no copy of it is kept here. A newer one: both lines, from npm view axe-core.
AXE     = axe-core@4.14.1
AXE_SUM = FHfa+lmNjQZfJz1q8wKqIDwC6DExcHt/pkjNQb09a3NPjCKg2rhu5qb2S4r76ASyFNNtuFooJpZe37OgudVGtQ==
axe: ## fetch axe-core for the tests of accessibility into .cache, of one version and one sum (npm)
	@if [ "$$(cat .cache/axe/sum 2>/dev/null)" = '$(AXE_SUM)' ]; then exit 0; fi; \
	echo 'Fetching $(AXE) for the tests of accessibility'; \
	rm -rf .cache/axe; mkdir -p .cache/axe; cd .cache/axe; \
	npm pack --silent --ignore-scripts '$(AXE)' >/dev/null; \
	[ "$$(openssl dgst -sha512 -binary *.tgz | openssl base64 -A)" = '$(AXE_SUM)' ] || { echo '$(AXE) is not what it was: its sum differs'; exit 1; }; \
	tar -xzf *.tgz --strip-components=1 package/axe.min.js package/LICENSE; rm *.tgz; echo '$(AXE_SUM)' >sum

.PHONY: lint generated
lint: ## gofmt, vet (native and for the browser) and staticcheck
	@bad=$$(find . -name '*.go' -not -path './.cache/*' -print0 | xargs -0 gofmt -l); \
	if [ -n "$$bad" ]; then echo "gofmt wants to change:"; echo "$$bad"; exit 1; fi
	go vet ./...
	GOOS=js GOARCH=wasm go vet ./app ./app/cmd/site
	go tool staticcheck $$(go list ./... | grep -v /site/slim/)

generated: ## make every generated file again, fail if one changes (seconds)
	@mkdir -p .cache; git ls-files -z | xargs -0 sha256sum >.cache/before
	go generate ./...
	cd static/icons && go run draw.go
	@sha256sum --quiet --check .cache/before || { echo 'The files above were stale: commit them.'; exit 1; }

.PHONY: bench bench-diff budget fuzz golden report calibrate fit fit-memory learn validate new-fault mutants
# Six short runs say more than one long one: they show how far the numbers wander.
# The page is measured sixty times within one run. Lines with # are for people.
BENCH_OUT ?= testdata/bench/$(shell date +%F).txt
bench: chromium ## times of the model, the pictures and the page, kept in testdata/bench (BENCH_OUT=file)
	@mkdir -p .cache $(dir $(BENCH_OUT)); { \
	echo "# $$(git describe --always --dirty --tags) on $$(nproc) cores, load before: $$(cut -d' ' -f1-3 /proc/loadavg)"; \
	go test -run '^$$' -bench . -benchmem -benchtime 0.2s -count 6 $(BELOW); \
	go test -run '^$$' -bench . -benchtime 60x -timeout 40m ./app/browsertest; \
	echo "# load after: $$(cut -d' ' -f1-3 /proc/loadavg)"; } | grep -v '\[no test files\]' | tee .cache/bench.txt
	@mv .cache/bench.txt $(BENCH_OUT); echo 'Kept as $(BENCH_OUT)'

# By name, so by date.
KEPT = $(sort $(wildcard testdata/bench/*.txt))
OLD ?= $(lastword $(filter-out $(lastword $(KEPT)),$(KEPT)))
NEW ?= $(lastword $(KEPT))
bench-diff: ## compare two kept benchmarks: the last two (OLD=file NEW=file)
	@[ -n '$(OLD)' ] && [ -n '$(NEW)' ] || { echo 'bench-diff: two files are needed; make bench writes one'; exit 1; }
	go tool benchstat $(OLD) $(NEW)

budget: TIGHT = 1
budget: build chromium ## what the site weighs and what it is made of
	go run ./app/cmd/site size -dir $(OUT)
	go test -count=1 -v -run FirstVisit ./app/browsertest | grep -E 'first visit|^(ok|FAIL)'

FUZZTIME ?= 10s
fuzz: ## every fuzz target for a short while (FUZZTIME=10s)
	@grep -rlE '^func Fuzz' --include='*_test.go' --exclude-dir=.cache . | while read -r file; do \
	  for f in $$(grep -ohE '^func Fuzz[A-Za-z0-9_]*' $$file | cut -c6-); do \
	    echo "$$(dirname $$file) $$f"; \
	    go test -run '^$$' -fuzz "^$$f$$" -fuzztime $(FUZZTIME) $$(dirname $$file) | tail -n 3; done; done

golden: ## accept the pictures and texts as they are now; shows what changed
	go test $$(grep -rlE 'reftest\.Golden\(' --include='*_test.go' --exclude-dir=.cache . | xargs -n1 dirname | sort -u) -update
	git --no-pager diff --stat -- testdata/golden

report: ## write testdata/report: how often the answer is right, and how sure it should be
	go run ./refrig/diagnose/cmd/report
	go test ./refrig/internal/judge -run TestProof -count 1 -update-proof
	CYCLE_CASES=20000 go test -count=1 -run 'Robustness|OtherStarts' -v ./refrig/cycle

calibrate: ## fit the fleet to makers' published tables; writes refrig/fleet/calibration.csv and testdata/makers/calibration.md
	go run ./refrig/makers/cmd/calibrate

fit: ## make the networks again (about forty minutes)
	go run ./refrig/internal/fit/cmd/fit

fit-memory: ## make the memory network alone again, upon the others (ten minutes)
	go run ./refrig/internal/fit/cmd/fit -memory

validate: ## judge the model on files of confirmed jobs (DATA=folder)
	@go run ./refrig/learn/cmd/learn -data '$(DATA)'

learn: ## say what files of confirmed jobs teach the model, and what that brings (DATA=folder, KEEP=1 to build it in)
	@go run ./refrig/learn/cmd/learn -lessons $(if $(KEEP),-keep) -data '$(DATA)'

mutants: ## write deliberate errors into a copy, see which the tests notice (ONLY=words, CHECK=1)
	go run testdata/mutants/run.go $(if $(CHECK),-check) -only '$(ONLY)'

new-fault: ## start a condition: its page and its scenario (ID=name_in_snake_case)
	go run refrig/catalogue/newcondition.go $(ID)

.PHONY: words
words: ## start a language, or list what it still lacks (LANG=pt)
	go run app/present/newlanguage.go '$(filter-out C% en_% POSIX,$(LANG))'

.PHONY: clean
clean: ## remove what was built
	rm -rf $(OUT) .cache
	find . -name '*.got' -delete
