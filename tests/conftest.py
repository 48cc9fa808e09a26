"""What every test runs under: no screen, the same random examples each time, long searches only with
--soak.
"""

import os
import tempfile
from collections.abc import Callable
from datetime import timedelta
from pathlib import PurePosixPath
from typing import Any, Final

import pytest
from hypothesis import Phase, settings
from hypothesis.internal.conjecture import providers
from hypothesis.internal.constants_ast import Constants
from xdist.remote import Producer
from xdist.scheduler import LoadScopeScheduling

from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.export import pack
from rampdraft.model.design import Design

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

# No test, and no program that one starts, writes into the log of whoever runs it.
_DATA = tempfile.TemporaryDirectory(prefix="rampdraft-tests-")
os.environ["XDG_DATA_HOME"] = _DATA.name

# It would draw numbers from the source of whatever the program has loaded: others in each process.
providers._get_local_constants = Constants

settings.register_profile(
    "same each time",
    max_examples=12,
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
    if not config.getoption("--soak"):
        for item in items:
            if "soak" in item.keywords:
                item.add_marker(pytest.mark.skip(reason="a long search: run with --soak"))


class Together(LoadScopeScheduling):
    """Gives one process all tests of a file, and of folders of `_TOLD` that go together: so what is made once
    for several is made once.
    """

    def _split_scope(self, nodeid: str) -> str:
        file = PurePosixPath(nodeid.partition("::")[0])
        return _TOLD.get(file.parent.name, str(file))


def pytest_xdist_make_scheduler(config: pytest.Config, log: Producer) -> Together:
    return Together(config, log)


_TOLD: Final = {"cli": "commands", "export": "papers", "golden": "papers"}
"""Folders of tests of what is told of a ramp: what is made once for one of them serves all, such as who rolls
over it, which takes longest.
"""
_MADE: dict[tuple[str, Design], Any] = {}


@pytest.fixture(autouse=True)
def dear_once(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Keep, in tests of what is told or shown, what takes longest of a design for those that follow in this
    process: who rolls over it, and the map of its fold.
    """
    if request.path.parent.name not in (*_TOLD, "app"):
        return
    for stage in (Evaluation.rolling, Evaluation.clearance_map):
        monkeypatch.setattr(stage, "make", _kept(stage.name, stage.make))
    if request.path.parent.name == "app":  # which loads Qt
        monkeypatch.setattr("rampdraft.app.kept_rolling.roll_everywhere", Evaluation.rolling.make)


def _kept(name: str, make: Callable[..., Any]) -> Callable[..., Any]:
    def kept(design: Design, *needs: Any) -> Any:
        if (name, design) not in _MADE:
            _MADE[name, design] = make(design, *needs)
        return _MADE[name, design]

    return kept


@pytest.fixture
def light_pack(monkeypatch: pytest.MonkeyPatch) -> None:
    """Leave papers, drawings and profiles all but empty, in tests that are about how a pack is written: they
    have tests of their own and take most of the time.
    """
    for paper in pack.PAPERS:
        monkeypatch.setitem(
            pack.PAPERS,
            paper,
            lambda evaluation, date, revision: b"%PDF-" + evaluation.design.about.name.encode(),
        )
    monkeypatch.setattr(pack, "drawings_dxf", lambda evaluation, revision: revision.encode())
    for made in ("part_dxf", "sheet_dxf", "unrolled_dxf"):
        monkeypatch.setattr(pack, made, lambda *given: str(given[-1]).encode())
