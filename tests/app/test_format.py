from collections.abc import Iterator

import pytest

from rampdraft.app.form import format
from rampdraft.model.fields.paths import FieldInfo, info_of, label_of, walk
from rampdraft.model.fields.record import Choice, MaterialChoice, Switch, Words
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
