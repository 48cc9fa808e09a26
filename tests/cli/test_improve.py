"""`rampdraft improve`: what it writes is better and passes; what is locked stays; what cannot be is told."""

from pathlib import Path

import pytest

from rampdraft.cli.main import run
from rampdraft.evaluation.evaluate import evaluate
from rampdraft.explore.proposals.worth import mass_kg
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import samples_folder

SAMPLE = samples_folder() / "orchard-trolley.toml"


def no_window(_: Path | None) -> int:
    raise AssertionError("no window is wanted")


def test_a_lighter_design_is_written_that_keeps_what_is_locked(tmp_path: Path) -> None:
    to = tmp_path / "lighter.toml"
    given = [word for path in ("rails", "inner_leaf.length_mm") for word in ("--lock", path)]
    assert run(["improve", str(SAMPLE), "--towards", "light", "--to", str(to), *given], no_window) == 0
    before, after = load_design(SAMPLE), load_design(to)
    assert after.rails == before.rails
    assert after.inner_leaf.length_mm == before.inner_leaf.length_mm
    found = evaluate(after, SAMPLE.parent)
    assert not [check.id for check in found.all_checks if check.fails]
    assert mass_kg(found) < mass_kg(evaluate(before, SAMPLE.parent))


def test_a_path_that_is_none_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    to = tmp_path / "none.toml"
    given = ["improve", str(SAMPLE), "--to", str(to), "--lock", "inner_leaf.lenght"]
    assert run(given, no_window) == 2
    assert "inner_leaf.lenght" in capsys.readouterr().err
    assert not to.exists()


def test_where_all_is_locked_nothing_is_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    to = tmp_path / "none.toml"
    groups = ("inner_leaf", "outer_leaf", "toe", "prop", "bridge", "joint", "deck_hinge", "stop", "rails")
    given = [word for path in groups for word in ("--lock", path)]
    assert run(["improve", str(SAMPLE), "--to", str(to), *given], no_window) == 1
    assert "keeps what is locked" in capsys.readouterr().out
    assert not to.exists()
