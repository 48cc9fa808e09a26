"""Rolling over it, on paper: every user and site with the worst of each figure, the worst of all with whose
it is, and poses that show what their titles say.
"""

import math
import re
from dataclasses import replace
from functools import cache

import pytest
from paper_text import of_story
from ramps import standing_in
from timber_ramp import timber_ramp
from tries import first

from rampdraft.drawing.rolling_words import PLACES as SPOTS
from rampdraft.drawing.rolling_words import SIGNS, told_of
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.export.pdf.rolling import rolling_story
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.mechanics.rolling.results import Roll, Worst
from rampdraft.mechanics.rolling.summary import PLACES, Extreme, extremes, summed
from rampdraft.model.fields.paths import with_value
from rampdraft.model.rolling_shape import of_class
from rampdraft.words.figures import newton

TITLE = (
    "Least clearance|Least left before tipping (?:back|forward)|Greatest push by hand"
    "|Greatest drive of wheels|Most to hold back by hand|Most braking of wheels"
    "|Greatest bump at the (?:deck edge|joint|toe)|Least speed left after a bump"
    "|Deepest sink into a gap|Wheel furthest off the surface"
)
NAMES = tuple(path.stem for path in sample_paths())


@cache
def sample(name: str) -> Evaluation:
    path = next(path for path in sample_paths() if path.stem == name)
    return evaluate(load_design(path), path.parent)


def printed(evaluation: Evaluation) -> str:
    """Return what stands there, on one line."""
    return of_story(*rolling_story(evaluation))


@cache
def whole(name: str) -> str:
    return printed(sample(name))


@cache
def tables(name: str) -> str:
    return whole(name).partition("Rolling over it: the worst poses")[0]


@cache
def found(name: str) -> dict[str, Extreme]:
    return {one.key: one for one in extremes(sample(name).design, sample(name).rolling)}


def pose(name: str, title: str) -> str:
    """Return what stands from a pose's title on to the next one's."""
    text = whole(name).partition("Rolling over it: the worst poses")[2]
    start = text.index(title)
    end = re.search(r" \d+ (Least|Greatest|Wheel|Worst of) ", text[start + len(title) :])
    return text[start : start + len(title) + end.start()] if end else text[start:]


def with_users(*users: object) -> Evaluation:
    return evaluate(with_value(timber_ramp(), "use.users", users))


@pytest.mark.parametrize("name", first(2, NAMES))
def test_every_user_has_every_site_with_the_worst_of_all_ways(name: str) -> None:
    evaluation, text = sample(name), tables(name)
    design, all_ways = evaluation.design, summed(evaluation.rolling)
    assert len(all_ways) == len(design.use.users) * len(design.sites) * 4
    text = text[text.index("Every user over every site") :]
    for user, one in enumerate(design.use.users, start=1):
        for site, place in enumerate(design.sites, start=1):
            own = [each for each in all_ways if (each.user, each.site_number) == (user, site)]
            low = min((each.clearance[1] for each in own), key=lambda worst: worst.value)
            row = f" mm, {low.part}, {SPOTS[low.place]} {' '.join(_worst(own))}"
            row = row.replace("-", "−").replace("anti−tip", "anti-tip")
            at = text.index(row)
            assert f"{site} {place.name}" in text[max(at - 90, 0) : at]
            assert any(told_of(each).words in text[max(at - 60, 0) : at] for each in own)
        assert one.name in text


def _worst(own) -> list[str]:
    """Return the figures behind the clearance, each the worst over all ways."""
    tips = [[way.tip_back for way in own], [way.tip_forward for way in own]]
    angles = [
        f"{math.degrees(min(left)):.1f}°" if (left := [tip[1].value for tip in each if tip]) else "held"
        for each in tips
    ]
    forces = [newton(max(getattr(way, name)[1].value for way in own)) for name in ("push", "brake")]
    bumps = [[way.bumps[place][1].value for way in own if place in way.bumps] for place in PLACES]
    return [*angles, *forces, *(f"{max(each):.2f}" if each else "–" for each in bumps)]


@pytest.mark.parametrize("name", first(2, NAMES))
def test_the_worst_of_each_figure_stands_with_whose_it_is(name: str) -> None:
    text = tables(name)
    told = {
        "clearance": "Least clearance −?[0-9.]+ mm", "tip_back": "Least left before tipping back −?[0-9.]+°",
        "tip_forward": "Least left before tipping forward −?[0-9.]+°", "push": "Greatest push by hand",
        "drive": "Greatest drive of wheels", "hold": "Most to hold back by hand",
        "brake": "Most braking of wheels", "edge": "Greatest bump at the deck edge [0-9.]+ of its load",
        "joint": "Greatest bump at the joint [0-9.]+ of its load",
        "toe": "Greatest bump at the toe [0-9.]+ of its load", "slowed": "Least speed left after a bump",
        "drop": "Deepest sink into a gap", "hanging": "Wheel furthest off the surface",
    }  # fmt: skip
    for key, pattern in told.items():
        one = found(name).get(key)
        match = re.search(pattern, text)
        if one is None:
            assert match is None or "none" in text[match.end() :][:6]
            continue
        assert match is not None, key
        user = sample(name).design.use.users[one.roll.user - 1].name
        assert user in text[match.start() :][:90], key
        number = {"clearance": 1.0, "edge": 1.0, "joint": 1.0, "toe": 1.0}.get(key)
        if number:
            figure = re.findall(r"−?\d+\.\d+", match[0])[0].replace("−", "-")
            assert float(figure) == pytest.approx(one.worst.value, abs=0.051)


@pytest.mark.parametrize("name", first(2, NAMES))
def test_a_pose_shows_the_figure_of_its_title(name: str) -> None:
    """The title is of the roll, the words below it of the user put there again."""
    worst = found(name)["clearance"].worst.value
    told = f"{abs(worst):.1f}".removesuffix(".0")
    shown = pose(name, "1 Least clearance: ")
    assert (f"{told} mm clear" if worst >= 0 else f"aground by {told} mm") in shown
    tips = [(key, found(name)[key].worst.value) for key in ("tip_back", "tip_forward") if key in found(name)]
    for key, left in sorted(tips, key=lambda one: one[1])[:1]:
        way = key.removeprefix("tip_")
        shown = pose(name, f" Least left before tipping {way}: ")
        angle = f"{abs(math.degrees(left)):.1f}°"
        assert (f"{angle} before it tips {way}" if left >= 0 else f"tips {way}, {angle} too far") in shown


@pytest.mark.parametrize("name", ["library-trailer", "reed-ferry"])
def test_the_greatest_bump_is_drawn_enlarged_with_what_meets_what(name: str) -> None:
    words = {"edge": "deck edge", "joint": "joint", "toe": "toe"}
    one = max(
        (found(name)[place] for place in words if place in found(name)), key=lambda one: one.worst.value
    )
    shown = pose(name, f" Greatest bump at the {words[one.key]}: {one.worst.value:.2f} of its load, ")
    assert one.worst.part in shown[:100]
    assert one.worst.met in shown[:100]
    assert re.search(r"\d\.\d times as large", shown)


@pytest.mark.parametrize("name", first(2, NAMES))
def test_the_numbers_of_the_pictures_in_the_table_are_those_of_the_poses(name: str) -> None:
    poses = whole(name).partition("Rolling over it: the worst poses")[2]
    drawn = re.findall(rf"(\d+) ({TITLE}|Worst of [^:]*): ", poses)
    assert [int(number) for number, _ in drawn] == list(range(1, len(drawn) + 1))
    assert len(drawn) >= 2
    told = re.split(rf"({TITLE})", tables(name))
    rows = dict(zip(told[1::2], told[2::2], strict=True))
    for number, title in drawn:
        if not title.startswith("Worst of"):
            assert re.search(rf" {number}( |$)", rows[title])
    assert sum("bump at" in title for _, title in drawn) >= 1


def test_what_goes_wrong_is_told_in_full() -> None:
    text = tables("too-steep")
    name = sample("too-steep").design.use.users[0].name
    for outcome in ("grounds", "tips", "bump"):
        assert f"{SIGNS[outcome]} {name}: {outcome} (" in text
    assert "Nothing: " not in text
    assert "Nothing: at every site each way" in tables("orchard-trolley")


def test_who_is_too_wide_is_told_and_has_no_figures() -> None:
    wide = replace(of_class("Wide load", "pushchair"), rear_track_mm=1400.0, width_mm=1450.0)
    text = printed(with_users(wide))
    assert "Wide load is not rolled: its wheels are 14" in text
    assert f"{SIGNS['too wide']} too wide" in text
    assert "Nothing: " not in text
    assert " N " not in text[text.index("Every user over every site") :]


def test_a_site_that_is_not_reached_is_told() -> None:
    evaluation = with_users(of_class("Aunt", "manual wheelchair"))
    far = evaluation.sites[0].site_number
    sites = tuple(replace(one, reaches=False) if one.site_number == far else one for one in evaluation.sites)
    rolls = tuple(one for one in evaluation.rolling if isinstance(one, Roll) and one.site_number != far)
    text = printed(standing_in(evaluation, sites=sites, rolling=rolls))
    assert f"Nobody rolls at {sites[0].site}, deck empty: the ramp does not reach the ground" in text
    assert f"{far} {sites[0].site} {SIGNS['not reached']} not reached" in text


def test_a_design_without_users_says_so() -> None:
    text = printed(with_users())
    assert "The design names no user" in text
    assert "Nothing: " not in text


def test_a_face_that_stops_a_wheel_is_told_as_one() -> None:
    evaluation = with_users(of_class("Aunt", "manual wheelchair"))

    def stopped(worst: Worst) -> Worst:
        return replace(worst, value=math.inf) if worst.place == "toe" else worst

    rolls = []
    for one in evaluation.rolling:
        assert isinstance(one, Roll)
        ways = tuple(
            replace(way, bump=stopped(max(way.bumps, key=lambda bump: bump.place == "toe")),
                    bumps=tuple(map(stopped, way.bumps)))
            for way in one.ways if way.bumps
        )  # fmt: skip
        rolls.append(replace(one, ways=ways))
    text = printed(standing_in(evaluation, rolling=tuple(rolls)))
    assert f"{SIGNS['stopped']} Aunt: stopped (a wheel meets a face that no force takes it over)" in text
    assert "Greatest bump at the toe: more than can be had, " in text
    assert " stops " in text
