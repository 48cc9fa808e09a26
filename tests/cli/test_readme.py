"""The README tells what is so: its examples load, its lists are whole, its cautions are those of the
program.
"""

import re
import tomllib
from dataclasses import replace
from pathlib import Path
from typing import Any

from rampdraft.checks.notes import CAUTIONS
from rampdraft.checks.quantities.table import QUANTITIES
from rampdraft.checks.rules.reading import parse_rule_set
from rampdraft.files.design_file import design_text
from rampdraft.files.samples import sample_paths
from rampdraft.model.design import Price, Support
from rampdraft.model.starter import starter_design

ROOT = Path(__file__).parent.parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")


def example(title: str) -> str:
    section = README[README.index(f"\n## {title}\n") :]
    return section.split("```toml\n", 1)[1].split("```", 1)[0]


def paths(table: Any, at: str = "") -> set[str]:
    """Return the dotted keys of a table; rows of a list count as one."""
    if isinstance(table, list) and table and isinstance(table[0], dict):
        return {path for row in table for path in paths(row, at)}
    if isinstance(table, dict):
        return {path for key, value in table.items() for path in paths(value, f"{at}.{key}")}
    return {at}


def test_the_design_example_has_keys_that_exist() -> None:
    held = replace(
        starter_design(),
        supports=(Support(name="wheel", kind="spring", back_mm=1000, across_mm=500),),
        prices=(Price(item="F1", each=0.12),),
    )
    shown, known = paths(tomllib.loads(example("The file"))), paths(tomllib.loads(design_text(held)))
    assert len(shown) > 30
    assert shown - known == set()


def test_the_rule_example_is_a_rule_file() -> None:
    assert len(parse_rule_set(example("Rules"), "README.md").limits) == 3


def test_every_rule_set_and_quantity_is_listed() -> None:
    keys = {
        tomllib.loads(path.read_text(encoding="utf-8"))["key"]
        for path in (ROOT / "rampdraft/checks/rules/published").glob("*.toml")
    }
    section = README[README.index("\n## Rules\n") : README.index("\n## JSON\n")]
    assert set(re.findall(r"^\| `([a-z0-9-]+)` \|", section, re.MULTILINE)) == keys
    assert [name for name in QUANTITIES if f"`{name}`" not in section] == []


def test_the_cautions_stand_in_full() -> None:
    assert README[README.index("\n## Cautions\n") :].split("\n\n")[1].splitlines() == [
        f"- {caution}" for caution in CAUTIONS
    ]


def test_every_sample_is_named_with_its_picture() -> None:
    for path in sample_paths():
        assert f"samples/{path.name}" in README
        assert f"samples/{path.stem}.svg" in README
        assert path.with_suffix(".svg").is_file()


def test_every_picture_and_file_named_is_there() -> None:
    named = {link for link in re.findall(r"\]\(([^)#]+)\)", README) if "://" not in link}
    assert named
    assert [link for link in sorted(named) if not (ROOT / link).exists()] == []
