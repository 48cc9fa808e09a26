"""What saving does: the file stays its owner's, and what belongs to a design goes with it."""

import shutil
from pathlib import Path

import pytest
from stand_in import answers

from rampdraft.app.shell.desk import Desk
from rampdraft.evaluation.evaluate import evaluate
from rampdraft.export.json_report import report
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import samples_folder

KERF = "workshop.kerf_mm"


def lay_out(folder: Path, name: str) -> Path:
    """Copy a sample with its rule files, and return its path."""
    shutil.copytree(samples_folder() / "rules", folder / "rules")
    return Path(shutil.copy(samples_folder() / name, folder / name))


def test_a_remark_in_the_file_outlives_a_save(desk: Desk, tmp_path: Path) -> None:
    path = lay_out(tmp_path, "reed-ferry.toml")
    text = "# Jo's ferry.\n\n" + path.read_text(encoding="utf-8").replace(
        "[joint]", "\n# Turned by Ann.\n[joint]"
    )
    path.write_text(text, encoding="utf-8")
    desk.filing.open_path(path)
    old = f"kerf_mm = {desk.document.design.workshop.kerf_mm:g} "
    for value in (4.25, 4.5):
        desk.document.edit(KERF, value, "Change")
        assert desk.filing.save()
        assert path.read_text(encoding="utf-8") == text.replace(old, f"kerf_mm = {value} ")


@pytest.mark.parametrize("name", ["barn-stage.toml", "orchard-trolley.toml"])
def test_a_sample_saved_elsewhere_opens_and_checks_the_same(desk: Desk, tmp_path: Path, name: str) -> None:
    desk.filing.open_sample(samples_folder() / name)
    answers(desk).save_path = tmp_path / "mine.toml"
    assert desk.filing.save()
    assert not desk.document.stale
    (rule_file,) = (tmp_path / "rules").iterdir()
    assert rule_file.read_bytes() == (samples_folder() / "rules" / rule_file.name).read_bytes()
    here, there = tmp_path / "mine.toml", samples_folder() / name
    assert report(evaluate(load_design(here), here.parent)) == report(
        evaluate(load_design(there), there.parent)
    )


def test_another_rule_file_of_the_same_name_is_told_and_nothing_is_written(
    desk: Desk, tmp_path: Path
) -> None:
    (tmp_path / "rules").mkdir()
    (tmp_path / "rules" / "barn-assisted.toml").write_text("# mine\n", encoding="utf-8")
    desk.filing.open_sample(samples_folder() / "barn-stage.toml")
    answers(desk).save_path = tmp_path / "mine.toml"
    assert not desk.filing.save()
    title, words = answers(desk).said[-1]
    assert title == "Not saved"
    assert "barn-assisted.toml' is there already and holds other rules" in words
    assert not (tmp_path / "mine.toml").exists()


def test_a_rule_file_that_is_gone_is_named(desk: Desk, tmp_path: Path) -> None:
    path = lay_out(tmp_path, "barn-stage.toml")
    (tmp_path / "rules" / "barn-assisted.toml").unlink()
    desk.filing.open_path(path)
    (problem,) = desk.document.problems
    assert problem.key == "use.rule_sets[1]"
    assert str(tmp_path / "rules" / "barn-assisted.toml") in problem.text()
    answers(desk).save_path = tmp_path / "far" / "mine.toml"
    answers(desk).save_path.parent.mkdir()
    assert desk.filing.save_as()
    assert "rules/barn-assisted.toml, not found" in desk.window.statusBar().currentMessage()
