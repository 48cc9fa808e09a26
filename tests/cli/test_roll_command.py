"""`rampdraft roll`: what it prints, what its JSON holds, and that its wheels run where they say."""

import json
import math
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
import shapely

from rampdraft.checks.notes import CAUTIONS
from rampdraft.cli import main as commands
from rampdraft.cli.roll_sheet import roll_sheet, rolls_through
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.export.json_rolling import rolling_report
from rampdraft.files.design_file import load_design, save_design
from rampdraft.files.samples import samples_folder
from rampdraft.mechanics.rolling.results import WAYS
from rampdraft.mechanics.rolling.summary import summed
from rampdraft.mechanics.rolling.words import PLACE_WORDS
from rampdraft.model.fields.paths import with_value
from rampdraft.model.rolling_shape import of_class

TRAILER = samples_folder() / "library-trailer.toml"
FERRY = samples_folder() / "reed-ferry.toml"

Run = Callable[..., tuple[int, str, str]]

WORST = {"value", "x_mm", "front_mm", "part", "met", "place", "across_mm"}
ENTRY = {
    "user", "user_number", "site", "site_number", "deck", "way", "across_mm", "side_margin_mm", "remarks",
    "worst", "front_mm", "pitch_deg", "lean", "clearance_mm", "deck_drop_mm", "deck_nod_deg", "force_n",
    "wheels",
}  # fmt: skip
WHEEL = {
    "name", "across_mm", "radius_mm", "from_mm", "to_mm", "deck_drop_mm", "deck_nod_deg", "centre_mm",
    "surface_mm",
}  # fmt: skip
FIGURES = {
    "clearance_mm", "tip_back_deg", "tip_forward_deg", "hanging_mm", "drop_mm", "push_n", "brake_n", "bump",
    "speed_left", "head_mm", "grip_share", "run_up_m_s", "slide_m_s",
}  # fmt: skip


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    def run(*arguments: object) -> tuple[int, str, str]:
        code = commands.run([str(argument) for argument in arguments], lambda _: 0)
        out, err = capsys.readouterr()
        return code, out, err

    return run


@pytest.fixture(scope="module")
def trailer() -> Evaluation:
    return evaluate(load_design(TRAILER), TRAILER.parent)


@pytest.fixture(scope="module")
def told(trailer: Evaluation) -> dict[str, Any]:
    return json.loads(json.dumps(rolling_report(trailer), allow_nan=False))


def with_users(evaluation: Evaluation, *users: Any) -> Evaluation:
    return evaluate(with_value(evaluation.design, "use.users", users))


def test_the_command_prints_every_user_at_every_site_and_the_cautions(run: Run, trailer: Evaluation) -> None:
    code, out, err = run("roll", TRAILER)
    assert (code, err) == (0, ""), "anti-tip wheels alone are aground, and they are made to touch"
    for user in trailer.design.use.users:
        for site in trailer.design.sites:
            assert f"\n{user.name} - {site.name}\n" in out
    assert out.count("up forwards") >= 12
    flat = " ".join(out.split())
    assert all(" ".join(caution.split()) in flat for caution in CAUTIONS)
    assert "grounds" not in out


def test_what_grounds_is_said_and_is_its_exit_code(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "low.toml"
    text = Path(TRAILER).read_text(encoding="utf-8")
    assert "footrest_height_mm = 90" in text
    path.write_text(text.replace("footrest_height_mm = 90", "footrest_height_mm = 40"), encoding="utf-8")
    code, out, _ = run("roll", str(path))
    assert code == 1
    assert "grounds" in out


def test_the_command_prints_json_on_one_line(run: Run) -> None:
    code, out, _ = run("roll", FERRY, "--json")
    assert code in (0, 1)
    assert out.count("\n") == 1
    assert json.loads(out)["format"] == "rampdraft roll"


def test_the_keys_are_those_of_the_readme(told: dict[str, Any], trailer: Evaluation) -> None:
    assert set(told) == {
        "format", "version", "design", "every_mm", "places", "rolling", "cannot_roll", "not_reached",
        "cautions",
    }  # fmt: skip
    ways = {way for pair in WAYS.values() for way in pair}
    assert len(told["rolling"]) == len(trailer.design.use.users) * len(trailer.sites) * len(ways)
    for one in told["rolling"]:
        assert set(one) == ENTRY
        assert one["way"] in ways
        assert set(one["worst"]) == FIGURES
        for worst in one["worst"].values():
            assert worst is None or set(worst) == WORST
            assert worst is None or worst["place"] in PLACE_WORDS
        count = len(one["front_mm"])
        assert {
            len(one[key])
            for key in ("pitch_deg", "lean", "clearance_mm", "force_n", "deck_drop_mm", "deck_nod_deg")
        } == {count}
        assert all(b - a == pytest.approx(10) for a, b in pairwise(one["front_mm"]))
        assert all(set(wheel) == WHEEL for wheel in one["wheels"])
    readme = (Path(__file__).parent.parent.parent / "README.md").read_text(encoding="utf-8")
    part = readme[readme.index("`rampdraft roll FILE --json` prints") :]
    assert not [
        key for key in (*ENTRY, *FIGURES, *WORST) if f"`{key}`" not in part and f"`{key}[]`" not in part
    ]


def test_wheels_run_a_radius_away_from_their_surface(told: dict[str, Any]) -> None:
    """By other means: shapely measures from each centre to the polyline."""
    seen = 0
    for one in told["rolling"][:8]:
        for wheel in one["wheels"]:
            line = shapely.LineString(wheel["surface_mm"])
            away = shapely.distance(shapely.points(wheel["centre_mm"]), line)
            assert abs(away - wheel["radius_mm"]).max() < 0.01
            seen += len(away)
    assert seen > 5000


def test_the_worst_is_no_better_than_any_place_told(told: dict[str, Any]) -> None:
    for one in told["rolling"]:
        worst = one["worst"]
        assert worst["clearance_mm"]["value"] <= min(one["clearance_mm"]) + 1e-3
        assert worst["push_n"]["value"] >= max(one["force_n"]) - 1e-3
        assert worst["brake_n"]["value"] >= -min(one["force_n"]) - 1e-3


def test_the_three_places_name_the_greatest_bump_there(told: dict[str, Any]) -> None:
    for place in ("edge", "joint", "toe"):
        greatest = told["places"][place]
        assert greatest["place"] == place
        bumps = [one["worst"]["bump"] for one in told["rolling"]]
        there = [bump["value"] for bump in bumps if bump and bump["place"] == place]
        assert greatest["value"] >= max(there, default=0.0) - 1e-9


def test_a_user_that_cannot_roll_is_told_in_words_and_data(
    trailer: Evaluation, run: Run, tmp_path: Path
) -> None:
    wide = replace(of_class("Wide load", "hand trolley"), front_track_mm=1200.0)
    evaluation = with_users(trailer, wide, of_class("Barrow", "barrow"))
    text = roll_sheet(evaluation)
    assert "Wide load is not rolled: its wheels are 1240 mm wide, the ramp has room for 850 mm" in text
    assert "Barrow: held by hands" in text
    found = rolling_report(evaluation)
    assert [one["user"] for one in found["cannot_roll"]] == ["Wide load"]
    assert {one["user"] for one in found["rolling"]} == {"Barrow"}
    assert not rolls_through(evaluation)
    save_design(evaluation.design, tmp_path / "wide.toml")
    assert run("roll", tmp_path / "wide.toml")[0] == 1


def test_nobody_and_somebody_who_comes_through(trailer: Evaluation) -> None:
    nobody = with_users(trailer)
    assert "the design names no user" in roll_sheet(nobody)
    assert rolling_report(nobody)["rolling"] == []
    assert rolls_through(nobody)
    easy = with_users(trailer, of_class("Pushchair", "pushchair"))
    assert rolls_through(easy)
    (first, *_) = summed(easy.rolling)
    assert not first.grounds
    assert not first.stopped
    low = with_users(trailer, replace(of_class("Low", "pushchair"), underside_mm=5.0))
    assert not rolls_through(low)
    assert all(one.grounds for one in summed(low.rolling))


def test_a_wheel_that_is_stopped_is_told(trailer: Evaluation) -> None:
    """Castors of 10 mm at the end of a bridge plate and of slats that are 8 thick."""
    tiny = with_users(trailer, replace(of_class("Tiny", "hand trolley"), front_radius_mm=10.0))
    assert any(one.stopped for one in summed(tiny.rolling))
    assert "stops it" in roll_sheet(tiny)
    bumps = [one["worst"]["bump"]["value"] for one in rolling_report(tiny)["rolling"]]
    assert None in bumps
    assert not math.isnan(min(bump for bump in bumps if bump is not None))
