# planish: two commands matter, `make demo` and `make test`. Both bring what they need.
UV_VERSION := 0.13.9
UV := .tools/bin/uv
PY := .venv/bin/python
export UV_PYTHON_DOWNLOADS := never
export UV_NO_CONFIG := 1
export PYTHONUTF8 := 1
unexport PYTHONDONTWRITEBYTECODE
WORKERS ?= 2

.PHONY: help fuzz demo test check quick web bring lock format bench clean
help:
	@echo "make demo     install what is needed and run the sample fair"
	@echo "make test     every check and every test"
	@echo "make check    format, lint, types, import rules, packs, docs"
	@echo "make web      build the pages of the desk and the counter"
	@echo "make quick    check, and the tests that need neither browser nor database"
	@echo "make bench    print every figure, beside a peer or a limit (PLANISH_LABELS=folder of labelled texts for agreement)"
	@echo "make fuzz     throw generated requests at the whole API for as long as you like (PLANISH_FUZZ=200)"

.tools/uv-$(UV_VERSION):
	@python3 -m venv .tools || { echo "python3 has no venv module; on Debian: apt-get install python3-venv"; exit 1; }
	@.tools/bin/pip install -q --disable-pip-version-check "uv==$(UV_VERSION)"
	@touch "$@"

.venv/.stamp: requirements/all.txt pyproject.toml .tools/uv-$(UV_VERSION)
	@$(UV) venv -q --clear --python python3 .venv
	@$(UV) pip sync -q --compile-bytecode --python $(PY) --require-hashes requirements/all.txt
	@$(UV) pip install -q --python $(PY) --no-deps --no-build-isolation -e .
	@touch "$@"

install: .venv/.stamp

lock: .tools/uv-$(UV_VERSION)
	env -u UV_INDEX -u UV_DEFAULT_INDEX -u UV_INDEX_URL -u UV_EXTRA_INDEX_URL -u UV_FIND_LINKS \
	  $(UV) pip compile -q --universal --generate-hashes --no-header --no-annotate --no-emit-index-url --no-emit-find-links \
	  --override requirements/overrides.in --all-extras --group build --group check --group test --group bench pyproject.toml -o requirements/all.txt
	@! grep -nE '://|^--|file:' requirements/all.txt

format: install
	@.venv/bin/ruff format -q src tests bench samples && .venv/bin/ruff check -q --fix src tests bench samples

check: install
	@.venv/bin/ruff format -q --check src tests bench samples
	@.venv/bin/ruff check -q src tests bench samples
	@.venv/bin/mypy
	@.venv/bin/lint-imports
	@$(PY) -m planish.facts.checking

# The pages: built from the lock file, left alone while nothing changed.
FLOOR := src/planish/doors/floor
FLOOR_SOURCES := $(FLOOR)/index.html $(FLOOR)/vite.config.ts $(FLOOR)/tsconfig.json $(shell find $(FLOOR)/src $(FLOOR)/public -type f)
web: $(FLOOR)/static/index.html

$(FLOOR)/node_modules/.stamp: $(FLOOR)/package.json $(FLOOR)/package-lock.json
	@command -v npm >/dev/null || { echo "npm is missing; on Debian: apt-get install nodejs npm"; exit 1; }
	@cd $(FLOOR) && npm ci --silent --no-fund --no-audit
	@touch "$@"

$(FLOOR)/static/index.html: $(FLOOR)/node_modules/.stamp $(FLOOR_SOURCES)
	@cd $(FLOOR) && npm run --silent build -- --logLevel warn
	@touch "$@"

# What the tests need of the system, Debian's own: brought by apt as root, or said in one line.
APT := apt-get -qq -o DPkg::Lock::Timeout=300
bring:
	@want=; for pair in chromium:chromium pdftoppm:poppler-utils certutil:libnss3-tools strace:strace; do \
	  command -v $${pair%%:*} >/dev/null || want="$$want $${pair##*:}"; done; \
	ls /usr/lib/postgresql/*/bin/initdb >/dev/null 2>&1 || command -v initdb >/dev/null || want="$$want postgresql"; \
	[ -z "$$want" ] && exit 0; \
	if [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null; then \
	  $(APT) update && DEBIAN_FRONTEND=noninteractive $(APT) install -y $$want >/dev/null && exit 0; fi; \
	echo "some tests are left out without:$$want (sudo apt-get install$$want)"

demo: install web
	@$(PY) samples/run_saltmere.py out/saltmere

bench: install
	@for topic in start check labels dates lists settling like_cases rules weighing measuring ledger seals seal_rates web; do \
	  if [ -e bench/$$topic.py ]; then echo "== $$topic"; $(PY) -m bench.$$topic || exit 1; fi; done

fuzz: install
	@PLANISH_FUZZ=$${PLANISH_FUZZ:-60} $(PY) -m pytest tests/web/test_fuzzing.py

quick: check
	@$(PY) -m pytest -n $(WORKERS) -m "not browser and not database"

test: check web bring
	@$(PY) -m pytest -n $(WORKERS)

clean:
	rm -rf .venv .tools build dist $(FLOOR)/node_modules $(FLOOR)/static
