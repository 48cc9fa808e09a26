"""The JSON report keeps its keys: other programs read it (README.md, section JSON)."""

import json
import math
from dataclasses import replace
from typing import Any

import pytest
from ramps import standing_in
from timber_ramp import timber_ramp

from rampdraft.checks.notes import CAUTIONS
from rampdraft.checks.result import Check, Demand, Measured, Status, compose
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.export.json_report import gradient, report, verdict
from rampdraft.mechanics.results import LeafGradient
from rampdraft.model.fields.paths import with_value
from rampdraft.words.prose import stated

NUMBER, NUMBER_OR_NULL, TEXT, WHOLE, YES_NO = "number", "number or null", "text", "whole number", "yes or no"
TEXT_OR_NULL = "text or null"
POINT = (NUMBER, NUMBER)
POSE = {"inner_deg": NUMBER, "fold_deg": NUMBER}
PULL = {"handle": TEXT, "peak_n": NUMBER_OR_NULL, "at": NUMBER, "pose": POSE}
HANDS = {
    "places": [{"handle": TEXT, "force_n": NUMBER}],
    "people": NUMBER_OR_NULL,
    "at": NUMBER,
    "pose": POSE,
}
GRADIENT = {
    "rise_mm": NUMBER,
    "going_mm": NUMBER,
    "one_in": NUMBER_OR_NULL,
    "percent": NUMBER,
    "degrees": NUMBER,
}
COUNT = {"number": TEXT, "quantity": NUMBER}
LEAF_MASS = {"mass_kg": NUMBER, "centre_uyw_mm": (NUMBER, NUMBER, NUMBER)}

SHAPE = {
    "format": TEXT,
    "version": WHOLE,
    "design": {
        "name": TEXT,
        "drawing_number": TEXT,
        "rated_load_kg": NUMBER,
        "persons": NUMBER,
        "rule_sets": [TEXT],
    },
    "verdict": {"fails": WHOLE, "warns": WHOLE, "close": WHOLE, "within": WHOLE, "unjudged": WHOLE},
    "sites": [
        {
            "site": TEXT,
            "site_number": WHOLE,
            "deck": TEXT,
            "drop_mm": NUMBER,
            "reaches": YES_NO,
            "pose": POSE,
            "flap_deg": NUMBER,
            "bridge_deg": NUMBER_OR_NULL,
            "inner_leaf": GRADIENT,
            "outer_leaf": GRADIENT,
            "whole": GRADIENT,
            "contact_mm": POINT,
            "touches_with": TEXT,
            "grounds_at_toe": YES_NO,
            "joint_mm": POINT,
            "joint_room_mm": NUMBER,
            "toe_step_mm": NUMBER,
        }
    ],
    "fold": {
        "demanded_clearance_mm": NUMBER,
        "stages": [
            {
                "say": TEXT,
                "ends_at": NUMBER,
                "pose": POSE,
                "by_way_of": [POSE],
                "hand_force": PULL,
                "hands": HANDS,
            }
        ],
        "clearances": [
            {
                "what": TEXT,
                "clearance_mm": NUMBER,
                "certified_mm": NUMBER,
                "at": NUMBER,
                "pose": POSE,
                "members": (TEXT, TEXT),
                "points_mm": (POINT, POINT),
            }
        ],
        "clashing_between": [(NUMBER, NUMBER)],
        "meant_contacts": [TEXT],
        "peak_hand_force": PULL,
        "room": {
            "in_front_mm": NUMBER,
            "above_ground_mm": NUMBER,
            "above_deck_mm": NUMBER,
            "over_deck_mm": NUMBER,
        },
    },
    "joint": {
        "held": YES_NO,
        "by": TEXT,
        "words": TEXT,
        "lever_arm_mm": NUMBER,
        "play_deg": NUMBER,
        "drop_mm": NUMBER,
    },
    "stowed": {
        "pose": POSE,
        "above_deck_mm": NUMBER,
        "below_deck_mm": NUMBER,
        "thickness_mm": NUMBER,
        "over_deck_mm": NUMBER,
        "out_mm": NUMBER,
        "centre_mm": POINT,
    },
    "masses": {"inner_leaf": LEAF_MASS, "outer_leaf": LEAF_MASS, "carried_apart_kg": NUMBER},
    "loads": [
        {
            "key": TEXT,
            "words": TEXT,
            "kind": TEXT,
            "force_n": NUMBER_OR_NULL,
            "force_n_mm": NUMBER_OR_NULL,
            "bump_factor": NUMBER,
            "axles": [{"offset_mm": NUMBER, "force_n": NUMBER, "track_mm": NUMBER}],
            "axles_backwards": [{"offset_mm": NUMBER, "force_n": NUMBER, "track_mm": NUMBER}],
            "grade": NUMBER_OR_NULL,
            "mass_centre_height_mm": NUMBER_OR_NULL,
            "worst": {
                "member": TEXT,
                "section_mm": NUMBER,
                "first_axle_mm": NUMBER,
                "across_mm": NUMBER,
                "forwards": YES_NO,
                "moment_nmm": NUMBER,
            },
        }
    ],
    "strength": [
        {
            "key": TEXT,
            "name": TEXT,
            "strength_used": NUMBER_OR_NULL,
            "overall_factor": NUMBER_OR_NULL,
            "status": TEXT,
            "result": TEXT,
            "load": TEXT,
            "member": TEXT,
            "why": TEXT,
        }
    ],
    "checks": [
        {
            "id": TEXT,
            "title": TEXT,
            "subject": TEXT,
            "status": TEXT,
            "result": TEXT,
            "value": NUMBER_OR_NULL,
            "value_text": TEXT,
            "sense": TEXT,
            "limit": NUMBER_OR_NULL,
            "limit_text": TEXT,
            "unit": TEXT,
            "ratio": NUMBER_OR_NULL,
            "warning_only": YES_NO,
            "why": TEXT,
            "source": {"rule_set": TEXT, "title": TEXT, "clause": TEXT, "publication": TEXT},
            "working": [TEXT],
            "member": TEXT,
            "site_number": WHOLE,
            "at": NUMBER_OR_NULL,
        }
    ],
    "why_not": [
        {
            "clash": TEXT,
            "words": TEXT,
            "wishes": [{"key": TEXT, "rule": TEXT, "value": NUMBER, "would_do": NUMBER_OR_NULL}],
            "needed": NUMBER_OR_NULL,
            "possible": NUMBER_OR_NULL,
            "site_number": WHOLE,
            "deck": TEXT,
            "of_any_ramp": YES_NO,
            "checks": [TEXT],
        }
    ],
    "parts": [
        {
            "number": TEXT,
            "code": TEXT,
            "name": TEXT,
            "role": TEXT,
            "quantity": WHOLE,
            "hand": TEXT,
            "section": TEXT,
            "material": TEXT,
            "length_mm": NUMBER,
            "off_by_mm": NUMBER,
            "ends": (TEXT, TEXT),
            "marks": [{"at_mm": NUMBER, "what": TEXT}],
            "holes": [
                {
                    "at_mm": NUMBER,
                    "across_mm": NUMBER,
                    "face": TEXT,
                    "diameter_mm": NUMBER,
                    "use": TEXT,
                    "deep_mm": NUMBER_OR_NULL,
                    "takes": TEXT,
                }
            ],
            "mass_kg": NUMBER,
            "members": [TEXT],
        }
    ],
    "cutting_plan": {
        "bars": [
            {
                "section": TEXT,
                "material": TEXT,
                "stock_mm": NUMBER,
                "in_hand": YES_NO,
                "cuts": [{"part": TEXT, "length_mm": NUMBER, "at_mm": NUMBER, "beside_mm": NUMBER}],
                "offcut_mm": NUMBER,
            }
        ],
        "unplaced": [{"part": TEXT, "quantity": WHOLE, "why": TEXT}],
        "least_bars": WHOLE,
        "proven_least": YES_NO,
        "cost": NUMBER_OR_NULL,
        "words": TEXT,
    },
    "welds": [
        {
            "number": TEXT,
            "kind": TEXT,
            "shape": TEXT,
            "designation": TEXT,
            "throat_mm": NUMBER,
            "runs_mm": [NUMBER],
            "length_mm": NUMBER,
            "around": YES_NO,
            "both_sides": YES_NO,
            "parts": (TEXT, TEXT),
            "places": [(TEXT, TEXT)],
            "quantity": WHOLE,
            "judged": TEXT_OR_NULL,
        }
    ],
    "bought": [
        {
            "number": TEXT,
            "kind": TEXT,
            "name": TEXT,
            "standard": TEXT,
            "quantity": NUMBER,
            "unit": TEXT,
            "diameter_mm": NUMBER_OR_NULL,
            "length_mm": NUMBER_OR_NULL,
            "where": TEXT,
            "members": [TEXT],
        }
    ],
    "purchases": {
        "rows": [
            {
                "kind": TEXT,
                "number": TEXT,
                "name": TEXT,
                "material": TEXT,
                "standard": TEXT,
                "length_mm": NUMBER_OR_NULL,
                "quantity": NUMBER,
                "unit": TEXT,
                "each": NUMBER_OR_NULL,
                "cost": NUMBER_OR_NULL,
            }
        ],
        "untold": [{"row": WHOLE, "column": TEXT, "item": TEXT, "why": TEXT}],
        "known": NUMBER,
        "total": NUMBER_OR_NULL,
    },
    "assembly": [
        {
            "step": WHOLE,
            "kind": TEXT,
            "do": TEXT,
            "look": TEXT,
            "parts": [COUNT],
            "bought": [COUNT],
            "welds": [TEXT],
            "members": [TEXT],
        }
    ],
    "key_dimensions": [
        {
            "path": TEXT,
            "what": TEXT,
            "size_mm": NUMBER,
            "over_mm": NUMBER,
            "under_mm": NUMBER,
            "why": TEXT,
            "parts": [TEXT],
        }
    ],
    "remarks": [{"kind": TEXT, "words": TEXT, "members": [TEXT]}],
    "notes": [TEXT],
    "not_judged": [TEXT],
    "cautions": [TEXT],
}


def faults(found: Any, shape: Any, where: str = "report") -> list[str]:
    """Return where `found` has another shape: a dict has exactly the keys, a tuple that many values, a list
    any number.
    """
    if isinstance(shape, dict):
        if not isinstance(found, dict) or list(found) != list(shape):
            return [f"{where}: {list(found) if isinstance(found, dict) else found!r}"]
        return [
            fault for key, inner in shape.items() for fault in faults(found[key], inner, f"{where}.{key}")
        ]
    if isinstance(shape, list | tuple):
        if not isinstance(found, list) or (isinstance(shape, tuple) and len(found) != len(shape)):
            return [f"{where}: {found!r}"]
        shapes = shape * len(found) if isinstance(shape, list) else shape
        return [
            fault
            for n, (value, inner) in enumerate(zip(found, shapes, strict=True))
            for fault in faults(value, inner, f"{where}[{n}]")
        ]
    whole = isinstance(found, int) and not isinstance(found, bool)
    number = whole or (isinstance(found, float) and math.isfinite(found))
    fits = {
        NUMBER: number,
        NUMBER_OR_NULL: number or found is None,
        TEXT: isinstance(found, str),
        TEXT_OR_NULL: isinstance(found, str) or found is None,
        WHOLE: whole,
        YES_NO: isinstance(found, bool),
    }[shape]
    return [] if fits else [f"{where}: {found!r} is no {shape}"]


@pytest.fixture(scope="module")
def evaluation() -> Evaluation:
    return evaluate(timber_ramp())


def read_back(evaluation: Evaluation) -> dict[str, Any]:
    return json.loads(json.dumps(report(evaluation), allow_nan=False))


def test_keys_and_kinds_are_those_documented(evaluation: Evaluation) -> None:
    found = read_back(evaluation)
    assert faults(found, SHAPE) == []
    assert (found["format"], found["version"]) == ("rampdraft check", 1)
    assert all(found[key] for key in ("sites", "checks", "parts", "cautions"))
    assert found["fold"]["clearances"]
    assert found["cutting_plan"]["bars"]


def test_a_key_more_or_less_or_another_kind_is_noticed() -> None:
    shape = {"a": NUMBER, "b": [(TEXT, NUMBER_OR_NULL)]}
    assert faults({"a": 1, "b": [["x", None]]}, shape) == []
    for wrong in (
        {"a": 1},
        {"a": 1, "b": [], "c": 1},
        {"a": True, "b": []},
        {"a": 1, "b": [["x"]]},
        {"a": math.inf, "b": []},
    ):
        assert faults(wrong, shape), wrong


def test_the_readme_names_every_key() -> None:
    from pathlib import Path

    page = (Path(__file__).parent.parent.parent / "README.md").read_text(encoding="utf-8")

    def keys(shape: Any) -> set[str]:
        if isinstance(shape, dict):
            return set(shape) | {key for inner in shape.values() for key in keys(inner)}
        return {key for inner in shape for key in keys(inner)} if isinstance(shape, list | tuple) else set()

    section = page[page.index("\n## JSON") : page.index("\n## Cautions")]
    assert [
        key for key in sorted(keys(SHAPE)) if f"`{key}`" not in section and f"`{key}[]`" not in section
    ] == []


def test_figures_are_those_of_the_evaluation(evaluation: Evaluation) -> None:
    found = read_back(evaluation)
    assert [site["site"] for site in found["sites"]] == [site.site for site in evaluation.sites]
    assert found["sites"][0]["inner_leaf"]["percent"] == pytest.approx(
        100 * evaluation.sites[0].inner.ratio, abs=1e-6
    )
    tightest = evaluation.fold.clearance.tightest
    assert found["fold"]["clearances"][0]["certified_mm"] == pytest.approx(tightest.certified_mm, abs=1e-6)
    assert found["fold"]["clearances"][0]["members"] == [tightest.member_a, tightest.member_b]
    assert found["masses"]["inner_leaf"]["mass_kg"] == pytest.approx(
        evaluation.assembly.inner.mass_kg, abs=1e-6
    )
    assert [part["number"] for part in found["parts"]] == [part.number for part in evaluation.parts]
    assert [check["id"] for check in found["checks"]] == [check.id for check in evaluation.all_checks]
    assert found["cautions"] == list(CAUTIONS)


def test_a_check_that_no_ramp_can_pass_says_why(evaluation: Evaluation) -> None:
    """A way of 1,500 mm in an opening of 1,000 mm: no ramp has it, however it is made."""
    users = tuple(replace(user, width_mm=1500) for user in evaluation.design.use.users)
    wide = evaluation.following(with_value(evaluation.design, "use.users", users))
    found = read_back(wide)
    assert faults(found, SHAPE) == []
    failing = {check["id"] for check in found["checks"] if check["result"] == "fails"}
    (why, *_) = (one for one in found["why_not"] if one["clash"] == "width")
    assert why["checks"]
    assert set(why["checks"]) <= failing
    assert why["of_any_ramp"]
    assert why["needed"] >= 1500
    assert why["possible"] <= wide.design.carrier.opening_width_mm
    assert {wish["key"] for wish in why["wishes"]} & {"carrier.opening_width_mm", "use.users[1].width_mm"}


def test_a_ramp_that_nothing_bars_says_nothing_of_it(evaluation: Evaluation) -> None:
    assert read_back(evaluation)["why_not"] == []


def test_loads_and_members_are_those_that_are_judged(evaluation: Evaluation) -> None:
    found, carried = read_back(evaluation), evaluation.carried
    assert [load["key"] for load in found["loads"]] == [load.key for load in carried.loads]
    for data, load, place in zip(found["loads"], carried.loads, carried.worst, strict=True):
        assert data["worst"]["moment_nmm"] == pytest.approx(place.moment_nmm)
        assert sum(axle["force_n"] for axle in data["axles"]) == pytest.approx(getattr(load, "force_n", 0.0))
    checks = {check["id"]: check for check in found["checks"]}
    assert found["strength"]
    for row in found["strength"]:
        check = checks[f"own/strength/{row['key']}"]
        assert (row["status"], row["strength_used"]) == (check["status"], check["value"])


def test_a_ramp_that_folds_has_no_worst_places_and_rails_that_are_not_judged() -> None:
    found = read_back(evaluate(with_value(timber_ramp(), "stop.kind", "none")))
    assert {load["worst"] for load in found["loads"]} == {None}
    rails = next(row for row in found["strength"] if row["key"] == "inner-rails")
    assert (rails["strength_used"], rails["overall_factor"], rails["status"]) == (
        None,
        None,
        "cannot be judged",
    )
    assert rails["why"].startswith("Nothing holds the joint")


def test_loads_of_each_kind_say_what_they_are() -> None:
    rules = ("france-guided-transport", "singapore-bus")
    design = with_value(timber_ramp(), "use.rule_sets", rules)
    kinds = {load["kind"]: load for load in read_back(evaluate(design))["loads"]}
    assert kinds["by the metre"]["force_n"] is None
    assert kinds["by the metre"]["force_n_mm"] > 0
    assert kinds["rolling"]["force_n_mm"] is None


def test_a_gradient_in_four_ways() -> None:
    # 1 : 12 is 8.333 % and 4.764 degrees (2010 ADA Standards 405.2 names the ratio; the rest is arithmetic).
    assert gradient(LeafGradient(rise_mm=100, going_mm=1200)) == pytest.approx(
        {
            "rise_mm": 100,
            "going_mm": 1200,
            "one_in": 12,
            "percent": 100 / 12,
            "degrees": math.degrees(math.atan2(1, 12)),
        }
    )
    down = gradient(LeafGradient(rise_mm=-100, going_mm=800))
    assert (down["one_in"], down["percent"]) == (-8, -12.5)
    assert gradient(LeafGradient(rise_mm=0, going_mm=800))["one_in"] is None


def test_what_is_no_number_becomes_null(evaluation: Evaluation) -> None:
    check = replace(evaluation.checks[0], value=math.inf, limit=math.nan, ratio=None)
    one = standing_in(evaluate(evaluation.design), all_checks=(check,))
    found = read_back(one)["checks"][0]
    assert (found["value"], found["limit"], found["ratio"]) == (None, None, None)


def judged(status: Status, *, warning: str = "") -> Check:
    demand = replace(Demand.own("a", "a", "at most", "mm", 1.0, "1 mm"), warning=warning)
    found = Measured(key="", subject="", value=1.0, working=stated())
    return replace(compose(demand, found), status=status)


def test_a_warning_is_no_failure() -> None:
    checks = (
        judged(Status.EXCEEDS),
        judged(Status.EXCEEDS, warning="Advice."),
        judged(Status.UNJUDGED),
        judged(Status.CLOSE),
    )
    assert verdict(checks) == {"fails": 1, "warns": 1, "close": 1, "within": 0, "unjudged": 1}
