# Needs only python3 (3.11 or newer, with venv) and make. Everything else goes into .venv.
PYTHON ?= python3
VENV   := .venv
BIN    := $(VENV)/bin
READY  := $(VENV)/.installed
PIP    := $(BIN)/python -m pip --disable-pip-version-check --quiet

.PHONY: help run serve test proof bench lint format lock licences reference pictures clean
.DEFAULT_GOAL := help

help: ## this list
	@sed -n 's/^\([a-z]*\):.*## \(.*\)/make \1\t\2/p' Makefile | expand -t 16

run: $(READY) ## judge the demo's hoist rope KQ-1; report and picture go to out/
	@mkdir -p out && rm -f out/KQ-1.pdf out/KQ-1.svg
	@$(BIN)/ropewright assess --demo KQ-1 --as-of 2026-11-10 \
	  --report out/KQ-1.pdf --picture out/KQ-1.svg; \
	code=$$?; case $$code in 0|1|3) test -s out/KQ-1.pdf ;; *) exit $$code ;; esac

serve: $(READY) ## open the pages on the invented demo site, on this machine only
	@mkdir -p out && test -f out/demo.book || $(BIN)/ropewright demo --book out/demo.book
	@$(BIN)/ropewright serve out/demo.book --single-user

test: lint ## lint, then every test but the heavy proofs; skipped tests are listed
	$(BIN)/python -m pytest -n 2

proof: $(READY) ## the heavy proofs (up to an hour)
	$(BIN)/python -m pytest -n 2 -m proof

bench: $(READY) ## measure speed
	$(BIN)/python -m benchmarks

lint: $(READY) ## style, format, types, import rings (checks only, changes nothing)
	$(BIN)/ruff check
	$(BIN)/ruff format --check
	$(BIN)/mypy
	$(BIN)/lint-imports

format: $(READY) ## rewrite the files in the checked format
	$(BIN)/ruff check --fix --exit-zero
	$(BIN)/ruff format

licences: $(READY) ## write docs/third-party-licences.md anew
	$(BIN)/python scripts/third_party_licences.py

reference: $(READY) ## write the pages of docs/ that are made from the program anew
	$(BIN)/python scripts/reference.py

pictures: $(READY) ## take the pictures of the pages in docs/pictures anew (needs chromium)
	$(BIN)/python scripts/pictures.py

lock: ## compile requirements.lock anew from pyproject.toml
	@tmp=$$(mktemp -d) && trap 'rm -rf "$$tmp"' EXIT && \
	$(PYTHON) -m venv "$$tmp" && "$$tmp/bin/pip" install --quiet uv && \
	UV_CUSTOM_COMPILE_COMMAND="make lock" "$$tmp/bin/uv" pip compile pyproject.toml \
	  --quiet --extra dev --extra fleet --extra postgres --universal --generate-hashes -o requirements.lock

clean: ## remove everything that was made here
	rm -rf $(VENV) out build dist htmlcov .coverage .coverage.* .pytest_cache .mypy_cache \
	  .ruff_cache .hypothesis .import_linter_cache
	find . -name __pycache__ -type d -prune -exec rm -rf {} +

# The locked packages: a changed lock builds the environment anew, so nothing old lingers in it.
$(VENV)/.locked: requirements.lock
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || \
	  { echo "Python 3.11 or newer is needed; '$(PYTHON)' is: $$($(PYTHON) --version 2>&1)." \
	    "Try: make PYTHON=python3.11" >&2; exit 1; }
	@$(PYTHON) -c 'import ensurepip, venv' 2>/dev/null || \
	  { echo "Python's venv module is missing. Add it with: apt-get install python3-venv" >&2; \
	    exit 1; }
	$(PYTHON) -m venv --clear $(VENV)
	$(PIP) install --no-deps --require-hashes -r requirements.lock
	@touch $@

$(READY): $(VENV)/.locked pyproject.toml
	$(PIP) install --no-deps --no-build-isolation -e .
	@touch $@
