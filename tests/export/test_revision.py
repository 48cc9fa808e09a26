"""One mark on every sheet and file of a pack, and another one for another design."""

import csv
import io
import json
from pathlib import Path

import ezdxf
import pytest
from packed import packed, sample
from paper_text import texts
from timber_ramp import timber_ramp

from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.export import revision
from rampdraft.export.revision import revision_of
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import samples_folder
from rampdraft.model.fields.paths import with_value


@pytest.fixture(scope="module")
def evaluation() -> Evaluation:
    return evaluate(timber_ramp())


def test_every_sheet_and_file_of_a_pack_carries_the_mark() -> None:
    mark, written = revision_of(sample("barn-stage")), list(packed("barn-stage").rglob("*.*"))
    assert len(mark) == 8
    papers = [texts(path.read_bytes()) for path in written if path.suffix == ".pdf"]
    assert len(papers) == 4
    assert all(mark in page for paper in papers for page in paper)
    for path in written:
        if path.suffix == ".csv":
            rows = list(csv.DictReader(io.StringIO(path.read_text(encoding="utf-8"), newline="")))
            assert rows
            assert {row["Revision"] for row in rows} == {mark}
        elif path.suffix == ".dxf":
            doc = ezdxf.readfile(path)
            said = [text.plain_text() for text in doc.modelspace().query("TEXT")]
            assert said.count(f"revision {mark}") == 1
            assert ("Revision", mark) in doc.header.custom_vars
        elif path.suffix == ".json":
            assert json.loads(path.read_text(encoding="utf-8"))["revision"] == mark


def test_the_mark_is_that_of_design_rules_and_version(
    evaluation: Evaluation, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    mark = revision_of(evaluation)
    assert revision_of(evaluate(timber_ramp())) == mark
    other = evaluate(with_value(timber_ramp(), "workshop.kerf_mm", 2.0625))
    assert revision_of(other) != mark
    monkeypatch.setattr(revision, "__version__", "0.0.0")
    assert revision_of(evaluation) != mark
    path = samples_folder() / "barn-stage.toml"
    barn, rules = load_design(path), tmp_path / "other.toml"
    name = path.parent / barn.use.rule_sets[0]
    rules.write_bytes(name.read_bytes())
    elsewhere = with_value(barn, "use.rule_sets", ("other.toml",))
    assert revision_of(evaluate(elsewhere, tmp_path)) == revision_of(evaluate(barn, path.parent))
    rules.write_bytes(name.read_bytes() + b"# another remark\n")
    assert revision_of(evaluate(elsewhere, tmp_path)) != revision_of(evaluate(barn, path.parent))
