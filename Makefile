# Every target does its own set-up. Plain POSIX sh, and nothing newer than make 3.81.

PYTHON_HERE = .venv/bin/python
JOBS = 3

.PHONY: setup setup-tests demo test bench lint check lock

setup:
	@.ci/prepare runtime

setup-tests:
	@.ci/prepare tests

demo: setup
	@$(PYTHON_HERE) -m county.rehearsal.demo

# pytest comes last, so that its closing line is the last thing said; many tests start programs of ours, which need not
# be compiled again each time, whatever is set here. While the checks take one core, another compiles the tests, so that
# the workers need not do it each for itself.
test: setup-tests
	@PYTHONDONTWRITEBYTECODE= $(PYTHON_HERE) -m pytest --collect-only -p no:cacheprovider >/dev/null 2>&1 & $(MAKE) --no-print-directory check
	@PYTHONDONTWRITEBYTECODE= CHROMIUM="$$(.ci/chromium)" $(PYTHON_HERE) -m pytest -n $(JOBS) --dist loadfile --no-loadscope-reorder

bench: setup-tests
	@$(PYTHON_HERE) -m tests.bench

lint: setup-tests check

check:
	@$(PYTHON_HERE) -m ruff check .
	@$(PYTHON_HERE) -m ruff format --check .
	@$(PYTHON_HERE) -m mypy
	@.venv/bin/lint-imports

# what pyproject.toml asks for, resolved for every platform and written down with hashes; needs uv
lock:
	uv pip compile --quiet --universal --generate-hashes --no-header --python-version 3.11 \
		pyproject.toml -o requirements.txt
	uv pip compile --quiet --universal --generate-hashes --no-header --python-version 3.11 \
		--group pyproject.toml:tests -c requirements.txt -o tests/requirements.txt
