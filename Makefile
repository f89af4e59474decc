# make run     install what is missing, build, and start drillbay
# make test    install what is missing and run every test
# make check   formatting, vet, staticcheck, import rules
# make bench   what a frame costs on its way from the camera
# make help    all targets

GO ?= go
STATICCHECK := honnef.co/go/tools/cmd/staticcheck@v0.8.2
PROGRAMS := ./cmd/drillbay ./cmd/drillbay-window

# Tests that draw need a display; without one a virtual screen serves.
SCREEN := $(if $(DISPLAY),,xvfb-run -a -s "-screen 0 1280x720x24")

.PHONY: run build packages test-packages test race long check bench mutants faults fuzz soak voice windows wine mac dist clean help

run: build
	@if [ -n "$$DISPLAY" ]; then exec bin/drillbay; \
	else echo "There is no display here: this is the demo without a window."; exec bin/drillbay demo --headless; fi

build: packages
	@[ -x bin/drillbay-window ] || echo "Building drillbay. The first time this takes about five minutes on two cores, then some seconds."
	@$(GO) build -o bin/ $(PROGRAMS)

packages:
	@sh .ci/need build

test-packages: packages
	@sh .ci/need test

# What must keep up in real time runs with nothing beside it.
ALONE := SoundNeverCostsARep|StrikesAreHeard|ShortClicksAreHeard
# Tests that play and listen are disturbed by load, but hardly cause any.
LISTENS := AListenerHearsTheBeat|SoundServerIsKilled|ThroughASoundServer

# The longest come first, so that nothing waits for them in the end.
test: test-packages
	$(SCREEN) $(GO) test -timeout 20m -skip '$(ALONE)|$(LISTENS)' $$($(GO) list ./cmd/drillbay ./app/live ./drills/measure ./camera/sight ./...)
	$(GO) test -p 1 -timeout 10m -run '$(ALONE)' ./cmd/drillbay ./app/live
	$(GO) test -p 2 -timeout 10m -run '$(LISTENS)' ./cues/sound ./cues/ear
	@echo "All tests passed."

race: test-packages
	$(SCREEN) $(GO) test -race -timeout 40m ./...

# Tests that take minutes are asked for by name; sound comes last and alone.
long: test-packages
	DRILLBAY_LONG=1 $(SCREEN) $(GO) test -count=1 -timeout 90m $$($(GO) list ./... | grep -v /cues/)
	DRILLBAY_LONG=1 $(GO) test -count=1 -p 1 -timeout 60m ./cues/...

check: packages
	@out=$$(gofmt -l app assets camera cmd cues drills); if [ -n "$$out" ]; then echo "Not formatted by gofmt:"; echo "$$out"; exit 1; fi
	$(GO) vet ./...
	@if $(GO) run $(STATICCHECK) -version >/dev/null 2>&1; then echo "staticcheck ./..."; $(GO) run $(STATICCHECK) ./...; \
	else echo "staticcheck cannot be had here: not run."; fi
	$(GO) test -count=1 -run 'Import|Library|NoDisplay' ./cmd

bench: packages
	$(GO) test -run '^$$' -bench 'Live|Decode' -benchmem -benchtime 200x ./app/live ./camera
	$(GO) test -run '^$$' -bench Look -benchmem -benchtime 1s ./camera/eye

# Changes the code in one place at a time and shows which changes no test would
# notice. Where the tests are slow, so many changes are drawn at random.
MUTANTS ?= ./drills ./drills/pattern ./drills/runner ./drills/clinic ./cues
SAMPLED ?= ./camera/lens ./drills/ledger ./drills/rep ./camera/sight
SAMPLE ?= 100
SEED ?= 1
WORKERS ?= 1
mutants:
	cd .ci/mutants && $(GO) build -o ../../bin/mutants .
	bin/mutants -least 85 -p $(WORKERS) -seed $(SEED) -equivalent .ci/mutants/equivalent.txt $(MUTANTS)
	bin/mutants -least 85 -p $(WORKERS) -seed $(SEED) -equivalent .ci/mutants/equivalent.txt -sample $(SAMPLE) -slowest 30s $(SAMPLED)

FAULTS := Kill|Terminated|FillsUp|MayBeWritten|AnotherProgram|TwoInstances|Faults|SoundNever|Stepped|Leap|Ended|Unplugged|Stalled|Hung|Garbage|DeletesOrRestores|UndoThatTheDisk|UndoOnAFull|EndedFromOutside

# Kills and faults at random moments, and a monkey at keys, pointer and camera:
# nothing that was told may be lost.
faults: SHELL := /bin/bash
faults: build
	DRILLBAY_KILLS=$${DRILLBAY_KILLS:-300} DRILLBAY_FAULTS=$${DRILLBAY_FAULTS:-20} DRILLBAY_MONKEY=$${DRILLBAY_MONKEY:-10} DRILLBAY_LONG=1 $(GO) test -count=1 -timeout 180m -v -run '$(FAULTS)' \
		./camera ./camera/clip ./drills/ledger ./cmd/drillbay ./app/live | grep -Ev '^(=== |    --- PASS|        --- PASS)'; exit $${PIPESTATUS[0]}

# Every reader of what comes from outside: FUZZTIME each, 60 s until set.
fuzz: packages
	sh .ci/fuzz

# Eight hours of practice in 30 minutes at most, then, each alone, practice with
# sound and the window in real time. Other work beside them is heard.
SOAK ?= 30
SOAK_REAL ?= 10
soak: test-packages
	DRILLBAY_SOAK=$(SOAK) $(GO) test -count=1 -timeout 120m -v -run SoakAsFast ./app/live
	DRILLBAY_SOAK=$(SOAK_REAL) $(GO) test -count=1 -timeout 120m -v -run SoakInRealTime ./app/live
	DRILLBAY_SOAK=$(SOAK_REAL) $(SCREEN) $(GO) test -count=1 -timeout 120m -v -run Soak ./cmd/drillbay-window

voice:
	sh assets/voice/build.sh

# The zip for Windows; make wine tries what is in it.
windows:
	@sh .ci/need windows
	GOOS=windows GOARCH=amd64 CGO_ENABLED=1 CC=x86_64-w64-mingw32-gcc CXX=x86_64-w64-mingw32-g++ \
		$(GO) build -trimpath -ldflags '-s -w -extldflags "-static"' -o dist/windows/drillbay/ $(PROGRAMS)
	cp README.md LICENSE dist/windows/drillbay/
	cd dist/windows && rm -f ../drillbay-windows-amd64.zip && zip -qr ../drillbay-windows-amd64.zip drillbay
	@ls -l dist/*.zip

# The program for Windows, without its window, beside the one for this system:
# the numbers must be the same. Without Wine it says that nothing was run.
wine: build windows
	@sh .ci/wine/try

# A bundle for macOS, made on macOS. Never built so far: see DEVELOPERS.md.
mac:
	@[ "$$(uname)" = Darwin ] || { echo "The bundle for macOS is made on macOS."; exit 1; }
	rm -rf dist/drillbay.app && mkdir -p dist/drillbay.app/Contents/MacOS
	$(GO) build -trimpath -ldflags '-s -w' -o dist/drillbay.app/Contents/MacOS/ $(PROGRAMS)
	cp .ci/dist/Info.plist dist/drillbay.app/Contents/

# A folder to take to another laptop; with the cross compiler also for Windows.
dist: build
	rm -rf dist/drillbay && mkdir -p dist/drillbay
	$(GO) build -trimpath -ldflags '-s -w' -o dist/drillbay/ $(PROGRAMS)
	cp README.md LICENSE .ci/dist/drillbay.desktop .ci/dist/install dist/drillbay/
	tar -C dist -czf dist/drillbay-linux-$$($(GO) env GOARCH).tar.gz drillbay
	@ls -l dist/*.tar.gz
	@if command -v x86_64-w64-mingw32-gcc >/dev/null; then $(MAKE) windows; else echo "Not for Windows: the cross compiler is missing (make windows installs it)."; fi

clean:
	rm -rf bin dist artefacts

help:
	@sed -n 's/^# //p;/^$$/q' Makefile
	@echo "make race, long, mutants, faults, fuzz, soak, voice, windows, wine, mac, dist, clean"
