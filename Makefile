# Two commands: `make demo` builds the example cabinet, `make test` runs everything CI runs.
# Both make their own environment in .venv; stamp files keep a second run quick.

SHELL := /bin/sh
.DEFAULT_GOAL := help
.PHONY: help demo test lint lock clean
.DELETE_ON_ERROR:

BIN := .venv/bin
PIP := $(BIN)/python -m pip --disable-pip-version-check --quiet
DEMO := reading-room-cabinet
READERS := tests/readers
VIEWER := viewer
PACKAGES := casewright checks drawings exporters ground models planning specs

help:
	@echo "make demo   build the example cabinet into out/$(DEMO)/"
	@echo "make test   run everything CI runs: ruff, mypy, import contracts, spelling, tests"
	@echo "make lint   the same without the tests"
	@echo "make lock   pin the dependencies anew (requirements.txt, requirements-dev.txt, $(READERS))"
	@echo "make clean  remove the environment and everything built"

# ---- the environment

$(BIN)/python:
	@sh tools/make_venv.sh .venv

.venv/.runtime: requirements.txt pyproject.toml | $(BIN)/python
	@echo "Installing Casewright into .venv (a few hundred MB the first time) ..."
	@$(PIP) install --require-hashes --no-deps -r requirements.txt
	@$(PIP) install --no-deps --no-build-isolation --editable .
	@$(BIN)/python -m compileall -q $(PACKAGES)
	@$(BIN)/python tools/check_kernel.py
	@touch $@

# What cannot be built is told; the rest of the program works without it.
.venv/.viewer: $(VIEWER)/package.json $(VIEWER)/package-lock.json $(wildcard $(VIEWER)/src/*) tools/build_viewer.py | .venv/.runtime
	@echo "Building the viewer of piece.html ..."
	@if $(BIN)/python tools/build_viewer.py; then touch $@; fi

.venv/.viewer-tools: .venv/.viewer
	@if $(BIN)/python tools/build_viewer.py --tools; then touch $@; fi

.venv/.dev: requirements-dev.txt .venv/.runtime
	@echo "Installing the tools of the tests into .venv ..."
	@$(PIP) install --require-hashes --no-deps -r requirements-dev.txt
	@touch $@

.venv/.readers: $(READERS)/package.json $(READERS)/package-lock.json | $(BIN)/python
	@if command -v npm >/dev/null 2>&1; then \
	  echo "Installing the test readers into $(READERS)/node_modules ..."; \
	  npm ci --prefix $(READERS) --ignore-scripts --no-audit --no-fund --loglevel=error && touch $@; \
	else \
	  echo "No npm here: tests that read GLB and DXF back with node's readers are skipped."; \
	fi

# ---- what people run

# Exit 1 is a finding about the piece, and the package is there; so see that it is, and new.
demo: .venv/.runtime .venv/.viewer
	@touch .venv/.demo; \
	$(BIN)/casewright build examples/$(DEMO).yaml --out out/$(DEMO); status=$$?; \
	if [ $$status -gt 1 ] || [ -z "$$(find out/$(DEMO)/build.json -newer .venv/.demo 2>/dev/null)" ]; then \
	  echo "The demo was not built (exit $$status)." >&2; exit 2; \
	fi; \
	$(BIN)/python tools/what_lies_where.py out/$(DEMO)

lint: .venv/.dev
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/lint-imports
	$(BIN)/codespell

test: lint .venv/.readers .venv/.viewer-tools
	$(BIN)/pytest -n 2

# ---- for those who work on the house

UV_LOCK := $(BIN)/uv --system-certs pip compile pyproject.toml --quiet --upgrade --universal --python-version 3.11 \
  --fork-strategy fewest --generate-hashes --no-header --no-emit-index-url --no-emit-find-links --no-config

lock: .venv/.dev
	$(UV_LOCK) --group install --output-file requirements.txt
	$(UV_LOCK) --group install --group dev --constraint requirements.txt --output-file requirements-dev.txt
	for folder in $(READERS) $(VIEWER); do \
	  npm install --prefix $$folder --package-lock-only --omit-lockfile-registry-resolved --ignore-scripts --no-audit --no-fund || exit 1; \
	done

clean:
	rm -rf .venv out dist $(READERS)/node_modules $(VIEWER)/node_modules exporters/viewer .mypy_cache .ruff_cache .pytest_cache .hypothesis .import_linter_cache
