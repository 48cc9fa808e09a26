"""The sheets of strength in the workshop pack: where they stand, what they say, and that it is what the
checks say.
"""

import io
from functools import cache

import pypdf
import pytest

from rampdraft.checks.demands.strength import member_rows
from rampdraft.checks.notes import CAUTIONS
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.export.pdf import tables
from rampdraft.export.pdf.document import workshop_pdf
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.mechanics.carrier.results import Standing

NAMES = tuple(path.stem for path in sample_paths())


@cache
def sample(name: str) -> Evaluation:
    path = next(path for path in sample_paths() if path.stem == name)
    return evaluate(load_design(path), path.parent)


@cache
def sheets(name: str) -> tuple[str, ...]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(tables, "ways_out", lambda _: {})  # takes longer than all the sheets
        data = workshop_pdf(sample(name), date="2026-03-01")
    return tuple(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages)


def on(name: str, words: str) -> list[int]:
    return [number for number, text in enumerate(sheets(name)) if words in text]


@pytest.mark.parametrize("name", NAMES)
def test_the_sheets_of_strength_follow_the_checks_and_carry_the_caution(name: str) -> None:
    (picture,), (members,) = on(name, "What the ramp carries, under"), on(name, "Strength of the members")
    assert max(on(name, "Checks, worst first")) < picture < members
    assert CAUTIONS[0] in sheets(name)[members]
    assert "\nStrength\n" in sheets(name)[picture]


@pytest.mark.parametrize("name", NAMES)
def test_every_member_stands_with_both_verdicts(name: str) -> None:
    evaluation = sample(name)
    text = " ".join("\n".join(sheets(name)[on(name, "Strength of the members")[0] :]).split())
    rows = member_rows((*evaluation.verdicts, *evaluation.fixed), evaluation.checks)
    assert len(rows) > 5
    for row in rows:
        said = f"{row.result} {row.name}"
        if row.share is not None and row.factor is not None:
            said += f" {100 * row.share:.0f} % {row.factor:.1f} {row.load}"
        assert said in text or (row.why and row.why.split()[0] in text), said


@pytest.mark.parametrize("name", NAMES)
def test_every_load_is_told_with_its_whole_force(name: str) -> None:
    text = " ".join("\n".join(sheets(name)[on(name, "Strength of the members")[0] :]).split())
    for load in sample(name).carried.loads:
        assert load.words in text
        assert f"{getattr(load, 'force_n', 0.0):.0f} N" in text or not hasattr(load, "force_n")


def test_the_picture_shows_curves_or_says_that_nothing_holds_the_joint() -> None:
    for name in NAMES:
        text = sheets(name)[on(name, "What the ramp carries, under")[0]]
        held = sample(name).carried.held
        assert ("Nothing holds the joint" in text) is not held
        assert ("Shear in the most loaded rail" in text) is held
        assert "deck hinge" in text


def test_the_carrier_has_its_sheets_where_supports_are_described_and_only_there() -> None:
    found = {name: len(on(name, "Carrier from the ")) for name in NAMES}
    assert found == {name: 2 if sample(name).standing is not None else 0 for name in NAMES}
    assert 2 in found.values()
    for name, sheet_count in found.items():
        standing = sample(name).standing
        if sheet_count and isinstance(standing, Standing):
            side = " ".join(sheets(name)[on(name, "Carrier from the side")[0]].split())
            assert standing.worst_climb.words in side
            assert all(support.name in side for support in standing.supports)
