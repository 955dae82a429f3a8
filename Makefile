# Everything from a bare clone: needs python3 (3.11 or later), pip and make.
#   make run     demo diagnosis       make test    all tests
#   make serve   the web page         make check   lint, types, import contract
#   make quick   tests of the inner loop, line coverage of every room
#   make mutants small errors the tests must notice (docs/mutants.md)
#   make checks  published figures beside ours (docs/checks.md)
#   make bench   speed                make accuracy   scored diagnoses (hours, resumable)
#   make field   told jobs scored (a quarter of an hour)

PYTHON ?= python3
BIN := .venv/bin
PIP := $(BIN)/python -m pip install -qq --constraint constraints.txt

# Bytecode and compiled kernels are kept, or every start would pay for them again.
unexport PYTHONDONTWRITEBYTECODE
export PIP_DISABLE_PIP_VERSION_CHECK := 1
export COLDWRIGHT_CACHE := $(CURDIR)/.cache

.PHONY: run test quick mutants check checks bench serve accuracy field clean

run: .stamps/app
	@$(BIN)/coldwright demo

serve: .stamps/app
	@$(BIN)/coldwright serve

test: .stamps/dev .stamps/chromium
	@$(BIN)/python -m pytest -n 2

quick: .stamps/dev
	@$(BIN)/python -m pytest -n 2 -q -m "not slow and not browser and not cold" \
		--cov=coldwright --cov-report=
	@$(BIN)/python -m bench.coverage_by_room

mutants: .stamps/dev
	@$(BIN)/python -m bench.mutants

check: .stamps/dev
	@$(BIN)/ruff check .
	@$(BIN)/ruff format --check --quiet .
	@$(BIN)/mypy
	@$(BIN)/lint-imports

bench: .stamps/dev
	@$(BIN)/python -m bench

checks: .stamps/dev
	@$(BIN)/python -m bench.checks

accuracy: .stamps/app
	@$(BIN)/python -m bench.accuracy

field: .stamps/app
	@$(BIN)/python -m bench.field

clean:
	rm -rf .venv .stamps .cache

# Some systems ship python3 without ensurepip; then the system's own pip fills the environment.
.venv/pyvenv.cfg:
	@echo "making the environment (about 5 s)"
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11) and "Coldwright needs Python 3.11 or later")'
	@$(PYTHON) -m venv .venv >/dev/null 2>&1 || { \
		rm -rf .venv && $(PYTHON) -m venv --without-pip .venv && \
		$(PYTHON) -m pip --python $(BIN)/python install -qq pip; }

.stamps/app: .venv/pyvenv.cfg pyproject.toml constraints.txt
	@echo "installing Coldwright and what it needs (about half a minute)"
	@$(PIP) --editable .
	@mkdir -p .stamps && touch $@

.stamps/dev: .stamps/app
	@echo "installing the tools for tests and checks (about half a minute)"
	@$(PIP) --editable '.[dev]'
	@touch $@

.stamps/chromium: .stamps/app
	@if command -v chromium >/dev/null || command -v chromium-browser >/dev/null; then :; \
	elif command -v apt-get >/dev/null && { [ "$$(id -u)" = 0 ] || sudo -n true 2>/dev/null; }; then \
		echo "installing Chromium for the page tests (about 60 s)"; \
		AS_ROOT=$$([ "$$(id -u)" = 0 ] || echo "sudo -n"); \
		$$AS_ROOT apt-get update -qq >/dev/null && \
		$$AS_ROOT env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq chromium >/dev/null; \
	else \
		echo "no Chromium found and none can be installed here: the page tests will say so"; \
	fi
	@mkdir -p .stamps && if command -v chromium >/dev/null || command -v chromium-browser >/dev/null; then touch $@; fi
