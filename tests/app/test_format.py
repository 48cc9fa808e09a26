from collections.abc import Iterator

import pytest

from rampdraft.app.form import format
from rampdraft.model.fields.paths import FieldInfo, info_of, label_of, walk
from rampdraft.model.fields.record import Choice, Dim, MaterialChoice, Switch, Words
from rampdraft.model.starter import starter_design
from rampdraft.words.manner import manner_of, speaking


@pytest.fixture(params=[".", ","])
def sign(request: pytest.FixtureRequest) -> Iterator[str]:
    with speaking(manner_of(decimal=request.param)):
        yield request.param


def test_every_typed_value_reads_back_from_its_own_text(sign: str) -> None:
    for path, info, value in walk(starter_design()):
        if not isinstance(info.record, Choice | Switch | MaterialChoice | Words):
            assert format.value_from(info, format.text_of(info, value)) == value, path


def test_ground_points_are_typed_in_brackets(sign: str) -> None:
    ground = _info("sites[1].ground_mm")
    text = "(0, 0), (1 m, 2*60)" if sign == "." else "(0; 0); (1 m; 2*60)"
    assert format.value_from(ground, text) == ((0, 0), (1000, 120))
    with pytest.raises(ValueError, match="points in brackets"):
        format.value_from(ground, "0, 0, 300")


@pytest.fixture
def inches() -> Iterator[None]:
    with speaking(manner_of(lengths="in")):
        yield


@pytest.mark.parametrize(
    ("value_mm", "text"),
    [
        (0.0, "0"), (25.4, "1"), (400.05, "15 3/4"), (-9.525, "-3/8"), (0.79375, "1/32"), (400.0, "15.748"),
        (400.058, "15 3/4"), (400.062, "15.7505"), (-1000.0, "-39.3701"),
    ],
)  # fmt: skip
def test_inches_are_fractions_of_a_rule_where_they_are_exact(
    inches: None, value_mm: float, text: str
) -> None:
    """One inch is 25.4 mm exactly (international inch, 1959); a rule for the shop has 32nds of it."""
    assert format.text_of(_info("inner_leaf.length_mm"), value_mm) == text


@pytest.mark.parametrize(
    ("text", "value_mm"),
    [
        ("15 3/4", 400.05), ("15.75", 400.05), ("15 3/4 in", 400.05), ('3/8"', 9.525), ("400 mm", 400.0),
        ("3/4", 19.05), ("2*15 - 1/2", 749.3), ("1 ft 3 3/4 in", 400.05), ("1 m - 1", 974.6),
        ("15 3/4 + 10 mm", 410.05), ("(1 + 1/2) in", 38.1), ("40 cm", 400.0), ("1 m / 2", 500.0),
    ],
)  # fmt: skip
def test_a_bare_number_counts_inches_where_they_are_shown(inches: None, text: str, value_mm: float) -> None:
    """One inch is 25.4 mm exactly (international inch, 1959)."""
    assert format.value_from(_info("inner_leaf.length_mm"), text) == value_mm


def test_inches_read_back_as_what_they_say(inches: None) -> None:
    for path, info, value in walk(starter_design()):
        if not isinstance(info.record, Choice | Switch | MaterialChoice | Words):
            text = format.text_of(info, value)
            assert format.text_of(info, format.value_from(info, text)) == text, path


def test_ground_points_are_typed_in_inches(inches: None) -> None:
    ground = _info("sites[1].ground_mm")
    assert format.value_from(ground, "(0, 0), (10, -1/2)") == ((0, 0), (254, -12.7))
    assert format.text_of(ground, ((0, 0), (254, -12.7))) == "(0, 0), (10, -1/2)"


def test_other_units_stay_as_they_are(inches: None) -> None:
    mass = _info("use.rated_load_kg")
    assert format.text_of(mass, 230.0) == "230"
    assert format.value_from(mass, "230") == 230.0
    assert format.unit_text("mm") == "in"
    assert format.unit_text("kg") == "kg"
    assert format.unit_text("N/mm") == "N/mm"


def test_ranges_and_changes_are_told_in_inches(inches: None) -> None:
    record = _info("inner_leaf.length_mm").record
    assert isinstance(record, Dim)
    low, high = (round(value / 25.4, 2) for value in (record.low, record.high))
    assert format.range_text(record) == f"{low:g} to {high:g} in"
    assert format.change_words("inner_leaf.length_mm", 400.05, 381.0) == "Inner leaf length 15 3/4 → 15 in"


def test_a_key_steps_by_16ths_of_an_inch(inches: None) -> None:
    record = _info("inner_leaf.length_mm").record
    assert isinstance(record, Dim)
    sixteenths = format.step_of(record) / (25.4 / 16)
    assert sixteenths == pytest.approx(round(sixteenths))
    assert sixteenths >= 1


def test_a_count_is_whole() -> None:
    with pytest.raises(ValueError, match="whole"):
        format.value_from(_info("stop.count"), "2.5")


def test_every_value_has_a_name_for_the_screen() -> None:
    names = [label_of(path) for path, _, _ in walk(starter_design())]
    assert len(set(names)) == len(names)
    assert "Inner leaf slat pitch" in names
    assert "Site 2 cross slope" in names


def _info(path: str) -> FieldInfo:
    info = info_of(path)
    assert info is not None
    return info
