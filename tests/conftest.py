"""What every test runs under: no screen, the same random examples each time, long searches only with
--soak.
"""

import os
import tempfile
from datetime import timedelta

import pytest
from hypothesis import Phase, settings
from hypothesis.internal.conjecture import providers
from hypothesis.internal.constants_ast import Constants

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # several workers share the processors

# No test, and no program that one starts, writes into the log of whoever runs it.
_DATA = tempfile.TemporaryDirectory(prefix="rampdraft-tests-")
os.environ["XDG_DATA_HOME"] = _DATA.name

# It would draw numbers from the source of whatever the program has loaded: others in each process.
providers._get_local_constants = Constants

settings.register_profile(
    "same each time",
    max_examples=50,
    derandomize=True,
    database=None,
    deadline=None,
    print_blob=True,
    # A red run tells at once: a smaller example is sought with --soak, for minutes.
    phases=(Phase.explicit, Phase.generate, Phase.target),
)
settings.register_profile("soak", max_examples=5000, deadline=timedelta(seconds=60), print_blob=True)


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--soak", action="store_true", help="run the long searches too, with new examples each time"
    )


def pytest_configure(config: pytest.Config) -> None:
    settings.load_profile("soak" if config.getoption("--soak") else "same each time")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    for item in items:
        if isinstance(item, pytest.Function) and _shares(item):  # in one process, so that it is made once
            item.add_marker(pytest.mark.xdist_group(item.path.name))
    if not config.getoption("--soak"):
        for item in items:
            if "soak" in item.keywords:
                item.add_marker(pytest.mark.skip(reason="a long search: run with --soak"))


def _shares(item: pytest.Function) -> bool:
    """Return whether a test takes what is made once for all of its file."""
    found = item._fixtureinfo.name2fixturedefs.values()
    return any(one.scope == "module" for fixtures in found for one in fixtures)
