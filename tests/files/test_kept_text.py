"""A text that somebody wrote, with new values: all of it that did not change stays to the letter."""

import tomllib
from pathlib import Path

import pytest
import tomlkit
from any_design import any_design
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tries import tries

from rampdraft.files import kept_text
from rampdraft.files.design_file import design_text, read_design
from rampdraft.files.kept_text import keeping as keeping_what
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import with_value

GOOD = (Path(__file__).parent / "ramp_version_1.toml").read_text(encoding="utf-8")
LINES = (Path(__file__).parent / "lines.toml").read_text(encoding="utf-8")


def keeping(old: str, new: str) -> str:
    """Return a text that leaves nothing out, with other values."""
    return keeping_what(old, new, old, lambda text: tomllib.loads(text) == tomllib.loads(new))


OLD = """\
# Our ramp, measured on 3 May.
version = 1

[leaf]   # the inner one
length_mm = 1_350.0   # as sawn
lanes_mm = [
    -386,  # left
    0,
    386,   # right
]

# Where the ferry lands.
# Ask Jo about the flood mark.
[[site]]
name = "Quay"
rise_mm = 0x190  # by tape

  # Only in summer.

# The low bank.
[[site]]
  rise_mm = 250
  name = 'Bank'

[leaf.made]
of = "steel"

# The end.
"""


def test_a_text_with_its_own_values_stays_to_the_letter() -> None:
    for text in (OLD, GOOD, LINES, "# only a remark\n"):
        assert keeping(text, text) == text


def new_values(**changes: str) -> str:
    """Return plain TOML that holds what OLD holds, with some texts changed."""
    text = """\
version = 1
[leaf]
length_mm = 1350  # Length, mm
lanes_mm = [-386, 0, 386]
[leaf.made]
of = "steel"
[[site]]
name = "Quay"
rise_mm = 400
[[site]]
name = "Bank"
rise_mm = 250
"""
    for old, new in changes.values():
        assert old in text
        text = text.replace(old, new, 1)
    return text


@pytest.mark.parametrize(
    ("old", "new", "was", "becomes"),
    [
        ("1350", "1350", "", ""),
        ("1350", "1400", "1_350.0", "1400"),
        ("[-386, 0, 386]", "[-386, 12, 386]", "    0,\n", "    12,\n"),
        ("[-386, 0, 386]", "[-386, 386]", "    0,\n", ""),
        ("[-386, 0, 386]", "[-386, 0, 20, 386]", "    0,\n", "    0,\n    20,\n"),
        ("rise_mm = 400", "rise_mm = 410", "0x190", "410"),
        ('"Bank"', '"Low bank"', "'Bank'", '"Low bank"'),
        (
            'of = "steel"',
            'of = "steel"\nby = "Jo"  # Welder',
            'of = "steel"\n',
            'of = "steel"\nby = "Jo"  # Welder\n',
        ),
        (
            '[[site]]\nname = "Quay"\nrise_mm = 400\n',
            "",
            OLD[OLD.index("\n# Where") : OLD.index("\n# The low")],
            "",
        ),
        (
            '[[site]]\nname = "Bank"\nrise_mm = 250\n',
            "",
            OLD[OLD.index("\n# The low") : OLD.index("\n[leaf.made]")],
            "",
        ),
    ],
)
def test_only_what_changed_is_other(old: str, new: str, was: str, becomes: str) -> None:
    wanted = new_values(change=(old, new))
    kept = keeping(OLD, wanted)
    assert tomllib.loads(kept) == tomllib.loads(wanted)
    assert kept == OLD.replace(was, becomes, 1)


def test_a_row_that_moves_takes_its_remarks_along() -> None:
    quay, bank = '[[site]]\nname = "Quay"\nrise_mm = 400\n', '[[site]]\nname = "Bank"\nrise_mm = 250\n'
    kept = keeping(OLD, new_values(change=(quay + bank, bank + quay)))
    assert tomllib.loads(kept)["site"] == [{"rise_mm": 250, "name": "Bank"}, {"name": "Quay", "rise_mm": 400}]
    assert kept.index("# The low bank.\n[[site]]\n  rise_mm = 250") < kept.index(
        "flood mark.\n[[site]]\nname"
    )


def test_windows_line_ends_stay() -> None:
    wanted = new_values(change=("1350", "1400"))
    assert keeping(OLD.replace("\n", "\r\n"), wanted) == keeping(OLD, wanted).replace("\n", "\r\n")


@pytest.mark.parametrize("old", ["", "  \n", "a = [", "site = 3\n[x]\n", "\x00"])
def test_where_nothing_can_be_kept_the_new_text_stands(old: str) -> None:
    new = new_values()
    assert tomllib.loads(keeping(old, new)) == tomllib.loads(new)


@pytest.mark.parametrize(
    ("shift_mm", "added"), [(0.0, ""), (3.0, "knuckle_shift_mm = 3  # Joint knuckle shift, mm\n")]
)
def test_what_was_left_out_and_did_not_change_stays_left_out(shift_mm: float, added: str) -> None:
    line = "knuckle_shift_mm = 0  # Joint knuckle shift, mm\n"
    text, start = GOOD.replace(line, ""), GOOD.index(line, GOOD.index("[outer_leaf]"))
    design = read_design(text, "ramp.toml")
    after = with_value(design, "outer_leaf.knuckle_shift_mm", shift_mm)
    kept = keeping_what(
        text,
        design_text(after),
        design_text(design),
        lambda text: read_design(text, "", consistent=False) == after,
    )
    assert kept == GOOD[:start].replace(line, "") + added + GOOD[start + len(line) :]


@settings(max_examples=tries(15), suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(before=any_design(), after=any_design(), data=st.data())
def test_any_design_put_into_the_text_of_another_is_read_back_and_keeps_its_remarks(
    before: Design, after: Design, data: st.DataObject
) -> None:
    lines = design_text(before).splitlines()
    for number in range(3):
        headers = [at for at, line in enumerate(lines) if line.startswith("[") and not line.startswith("[[")]
        lines.insert(data.draw(st.sampled_from(headers)), f"# remark {number}")
    kept = keeping_what("\n".join(lines), design_text(after), design_text(before), lambda _: True)
    assert read_design(kept, "ramp.toml", consistent=False) == after
    assert [kept.count(f"# remark {number}\n") for number in range(3)] == [1, 1, 1]


def test_only_the_tables_that_change_are_parsed(monkeypatch: pytest.MonkeyPatch) -> None:
    """A save is waited for; what is written is what it would be with the whole text parsed."""
    design = read_design(GOOD, "", consistent=False)
    later = with_value(design, "inner_leaf.length_mm", design.inner_leaf.length_mm + 3)
    meant, new = design_text(design), design_text(later)
    parsed: list[int] = []
    really = tomlkit.parse

    def parse(text: str) -> tomlkit.TOMLDocument:
        parsed.append(len(text))
        return really(text)

    monkeypatch.setattr(tomlkit, "parse", parse)
    found = keeping_what(GOOD, new, meant, lambda text: read_design(text, "", consistent=False) == later)
    assert 0 < sum(parsed) < len(GOOD) / 2
    assert found != new
    assert found == kept_text._written_into(GOOD, new, meant)


def test_a_row_of_a_list_is_no_header() -> None:
    """Each stands at the beginning of its line, in square brackets, as the header of a table does."""
    old = "[site]\nground_mm = [\n[0, 0], # here\n[1000, 20]\n]\n\n# Below.\n[leaf]\nlength_mm = 5 # cut\n"
    new = old.replace("1000", "1200").replace("5 #", "6 #")
    assert keeping(old, new) == new
