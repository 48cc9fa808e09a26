"""A design file read as a survey: the ramp's own tables do not count, what is missing or wrong is told."""

from pathlib import Path

import pytest

from rampdraft.errors import DesignError, FileError
from rampdraft.explore.proposals.survey import require_proposable
from rampdraft.files.design_file import load_design, load_survey
from rampdraft.files.samples import sample_paths
from rampdraft.model.design import Design
from rampdraft.model.survey import DESIGNED, SURVEYED

BREAD = Path(__file__).parent.parent / "surveys" / "bread-trailer.toml"
HEAD = 'format = "rampdraft design"\nversion = 1\n'


def read(folder: Path, text: str) -> Design:
    path = folder / "survey.toml"
    path.write_text(text, encoding="utf-8")
    return load_survey(path)


@pytest.mark.parametrize("path", sample_paths(), ids=lambda path: path.stem)
def test_the_survey_of_a_design_is_read_without_its_ramp(path: Path, tmp_path: Path) -> None:
    whole = load_design(path)
    survey = load_survey(path)
    for group in SURVEYED:
        assert getattr(survey, group) == getattr(whole, group), group
    kept: list[str] = []
    skip = False
    for line in path.read_text(encoding="utf-8").splitlines():
        if line.startswith("["):
            name = line.strip("[]").partition(".")[0]
            skip = any(group.removesuffix("s") == name or group == name for group in DESIGNED)
        kept += [] if skip else [line]
    assert read(tmp_path, "\n".join(kept)) == survey


def test_a_ramp_that_contradicts_itself_does_not_matter(tmp_path: Path) -> None:
    text = BREAD.read_text(encoding="utf-8") + "\n[inner_leaf]\nlength_mm = 'long'\n[joint]\n"
    assert read(tmp_path, text) == load_survey(BREAD)


def test_what_it_is_made_of_follows_from_what_the_shop_welds(tmp_path: Path) -> None:
    text = BREAD.read_text(encoding="utf-8")
    assert load_survey(BREAD).made_of.rails == "steel S355"
    survey = read(tmp_path, text + '\n[wishes]\nwelds = "aluminium"\n')
    assert survey.made_of.rails.startswith("aluminium")


def test_an_empty_survey_says_what_it_needs(tmp_path: Path) -> None:
    with pytest.raises(FileError) as caught:
        read(tmp_path, HEAD)
    assert {problem.key for problem in caught.value.problems} == {"about", "carrier", "use", "site"}


def test_a_table_that_nobody_knows_is_refused(tmp_path: Path) -> None:
    with pytest.raises(FileError) as caught:
        read(tmp_path, BREAD.read_text(encoding="utf-8") + "\n[wish]\n")
    (problem,) = caught.value.problems
    assert "wishes" in problem.way_out


STOCK = '\n[[stock]]\nsection = "{}"\nmaterial = "{}"\nlength_mm = 6000\n'


def problems(survey: Design) -> dict[str, str]:
    with pytest.raises(DesignError) as caught:
        require_proposable(survey)
    return {problem.key: problem.way_out for problem in caught.value.problems}


def test_contradictory_stock_is_told(tmp_path: Path) -> None:
    text = BREAD.read_text(encoding="utf-8") + STOCK.format("timber 28x95", "steel S355")
    assert "stock[1].material" in problems(read(tmp_path, text))


def test_no_material_for_the_rails_is_told(tmp_path: Path) -> None:
    text = BREAD.read_text(encoding="utf-8") + STOCK.format("flat 60x5", "steel S355")
    told = problems(read(tmp_path, text + "\n[wishes]\nbuys = false\n"))
    assert "wishes.buys" in told["made_of.rails"]


def test_rails_that_the_shop_cannot_weld_are_told(tmp_path: Path) -> None:
    text = BREAD.read_text(encoding="utf-8")
    families = ("rails", "cross_members", "slats", "upstands", "fittings")
    made = "\n[made_of]\n" + "".join(f'{family} = "aluminium 6082-T6"\n' for family in families)
    assert "made_of.rails" in problems(read(tmp_path, text + made))


def test_nobody_who_uses_it_is_told(tmp_path: Path) -> None:
    text = BREAD.read_text(encoding="utf-8")
    start, end = text.index("[[use.user]]"), text.index("[[site]]")
    assert "use.users" in problems(read(tmp_path, text[:start] + text[end:]))
