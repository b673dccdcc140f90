# crankpin: set up, build, serve and test. Everything runs from a bare clone; a second run takes a moment.
PYTHON ?= python3
ifeq ($(OS),Windows_NT)
BIN := .venv/Scripts
else
BIN := .venv/bin
endif
export NO_MKDOCS_2_WARNING := 1

.PHONY: serve site test bench mutants lock clean setup browser runtime lint types unit pyodide

serve: site  ## build the site and serve it to this machine and the phones on its network
	@$(BIN)/crankpin serve

site: runtime  ## build the site into site/
	@$(BIN)/crankpin site

test: lint types unit pyodide  ## everything that must hold before a change goes in

setup:  ## the Python and Node packages, and a browser to print with
	@$(PYTHON) tools/setup.py

browser:  ## look for a browser to print with again
	@$(PYTHON) tools/setup.py --browser

runtime: setup  ## the trimmed Python that runs on a phone
	@node runtime/build.mjs

lint: setup
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .

types: setup
	$(BIN)/mypy

unit: runtime  ## on this machine's Python, the built site and the browser among them
	$(BIN)/python -m pytest

pyodide: runtime  ## the mechanics and the calculators again, on the Python that runs on a phone
	node runtime/run_tests.mjs

bench: site  ## speed and size, side by side in one run; read the ratios
	$(BIN)/python -m tests.benchmarks

mutants:  ## mutation testing of the mechanics, on a copy; goes on where it stopped
	$(PYTHON) tools/mutants.py

lock: setup  ## write both lock files again after a change of the dependencies
	$(BIN)/python tools/lock.py

clean:  ## what was built; the installed packages stay
	rm -rf build site .pytest_cache .mypy_cache .ruff_cache .hypothesis
