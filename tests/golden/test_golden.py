"""What is told of the samples stays as it was, but where somebody means to change it (`make_golden.py`)."""

import json

import pytest
from told import apart, golden_of, told_of

from rampdraft.files.samples import sample_paths


@pytest.mark.parametrize("name", [path.stem for path in sample_paths()])
def test_a_sample_is_told_as_it_was(name: str) -> None:
    was = json.loads(golden_of(name).read_text(encoding="utf-8"))
    assert apart(was, told_of(name)) == []


def test_the_comparison_tells_what_differs_and_lets_rounding_pass() -> None:
    one = {"a": [1.0, "M = 999.5 N m"], "b": True}
    assert apart(one, {"a": [1.0000001, "M = 999.6 N m"], "b": True}) == []
    assert len(apart(one, {"a": [1.001, "M = 999.8 N m"], "b": False})) == 3
    assert apart(one, {"a": [1.0], "b": True}) == [".a: 2 and 1"]
    assert apart(one, {"a": one["a"]}) == [": ['b']"]
    assert apart("4 mm", "3.9 mm") == []
    assert apart("4 mm", "2 mm") != []
    assert apart("4 mm", "4 N") != []
