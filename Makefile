# Two commands do everything: `make guide` builds the demo guide, `make test` passes every test.
# Both set up what they need in .venv; `make test` also installs a browser and a Java for its tools.

VENV := .venv
BIN := $(VENV)/bin
APT := apt-get install -y -q --no-install-recommends

.PHONY: guide test check-style audit clean

guide: $(VENV)/.program
	$(BIN)/tertial build

test: $(VENV)/.tests tests/node_modules/.ready tools check-style
	$(BIN)/pytest -n 2 --dist loadfile

check-style: $(VENV)/.tests
	$(BIN)/ruff format --check .
	$(BIN)/ruff check .
	$(BIN)/mypy

# On demand: what Lighthouse says of the demo. It is large, and no test, so it has a folder of its own.
audit: guide tools $(VENV)/.tests
	npm install --prefix tests/audit --no-package-lock --ignore-scripts --no-audit --no-fund -s
	$(BIN)/python tests/audit/audit.py

clean:
	rm -rf $(VENV) .tertial tests/node_modules tests/audit/node_modules

$(VENV)/.venv:
	python3 -m venv $(VENV) || { apt-get update -q && $(APT) python3-venv && python3 -m venv $(VENV); }
	touch $@

$(VENV)/.program: $(VENV)/.venv pyproject.toml
	$(BIN)/python -m pip install -q --disable-pip-version-check -e .
	touch $@

$(VENV)/.tests: $(VENV)/.program tests/requirements.txt
	$(BIN)/python -m pip install -q --disable-pip-version-check -r tests/requirements.txt
	touch $@

tests/node_modules/.ready: tests/package.json tests/package-lock.json
	command -v npm >/dev/null || { apt-get update -q && $(APT) npm; }
	npm ci --prefix tests --ignore-scripts --no-audit --no-fund
	touch $@

# What pip and npm do not have: the browser, and the Java that the HTML checker runs on.
.PHONY: tools
tools:
	command -v chromium >/dev/null || { apt-get update -q && $(APT) chromium; }
	command -v java >/dev/null || { apt-get update -q && $(APT) default-jre-headless; }
