"""The evaluation as plain data for other programs: documented in README.md, and stable.

Keys carry their units; angles are in degrees, points are [x, z] in mm in the side plane. A figure that does
not exist (the N of 1 : N on a level leaf, the value of a check that cannot be judged) is null: JSON knows no
infinity. Keys may be added under the same `version`; none is taken away or changes its meaning without a new
one.
"""

import math
from typing import Any, Final

from rampdraft.checks.notes import CAUTIONS, UNJUDGED
from rampdraft.checks.result import Check, Result, tally
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.wishes.why import barring, clashes
from rampdraft.explore.wishes.words import why_not_words
from rampdraft.export.json_shop import shop_data
from rampdraft.export.json_strength import loads_data, strength_data
from rampdraft.geometry.linkage import Pose
from rampdraft.mechanics.handling.hands import StageHands
from rampdraft.mechanics.loading.loads import persons
from rampdraft.mechanics.results import (
    FoldResult,
    LeafGradient,
    PairClearance,
    SitePose,
    StageForce,
    StageSpan,
)

FORMAT: Final = "rampdraft check"
VERSION: Final = 1

Json = Any
"""What json.dumps takes: dict, list, str, float, int, bool, None."""


def report(evaluation: Evaluation) -> dict[str, Json]:
    """Return all that the evaluation says, ready for json.dumps(..., allow_nan=False)."""
    design = evaluation.design
    assembly = evaluation.assembly
    return _plain(
        {
            "format": FORMAT,
            "version": VERSION,
            "design": {
                "name": design.about.name,
                "drawing_number": design.about.drawing_number,
                "rated_load_kg": design.use.rated_load_kg,
                "persons": persons(design),
                "rule_sets": design.use.rule_sets,
            },
            "verdict": verdict(evaluation.all_checks),
            "sites": [_site(site) for site in evaluation.sites],
            "fold": _fold(evaluation),
            "joint": _joint(evaluation.fold),
            "stowed": _stowed(evaluation.fold),
            "masses": {
                "inner_leaf": {"mass_kg": assembly.inner.mass_kg, "centre_uyw_mm": assembly.inner.centre_mm},
                "outer_leaf": {"mass_kg": assembly.outer.mass_kg, "centre_uyw_mm": assembly.outer.centre_mm},
                "carried_apart_kg": assembly.loose_kg,
            },
            "loads": loads_data(evaluation),
            "strength": strength_data(evaluation),
            "checks": [_check(check) for check in evaluation.all_checks],
            "why_not": _why_not(evaluation),
            **shop_data(evaluation),
            "notes": evaluation.notes,
            "not_judged": UNJUDGED,
            "cautions": CAUTIONS,
        }
    )


def verdict(checks: tuple[Check, ...]) -> dict[str, int]:
    """Return how many checks came out how, by the keys that programs read: `warns` are advice."""
    found = tally(checks)
    return {
        "fails": found[Result.FAILS],
        "warns": found[Result.ADVICE],
        "close": found[Result.CLOSE],
        "within": found[Result.PASSES],
        "unjudged": found[Result.UNJUDGED],
    }


def gradient(leaf: LeafGradient) -> dict[str, float | None]:
    """Return rise, going and the gradient as the N of 1 : N (None when level), per cent and degrees."""
    ratio = leaf.ratio
    return {
        "rise_mm": leaf.rise_mm,
        "going_mm": leaf.going_mm,
        "one_in": 1 / ratio if ratio else None,
        "percent": 100 * ratio,
        "degrees": math.degrees(math.atan(ratio)),
    }


def _site(site: SitePose) -> dict[str, Json]:
    return {
        "site": site.site,
        "site_number": site.site_number,
        "deck": site.state,
        "drop_mm": site.drop_mm,
        "reaches": site.reaches,
        "pose": _pose(site.pose),
        "flap_deg": math.degrees(site.flap_rad),
        "bridge_deg": math.degrees(site.bridge_lie.angle_rad) if site.bridge_lie else None,
        "inner_leaf": gradient(site.inner),
        "outer_leaf": gradient(site.outer),
        "whole": gradient(site.whole),
        "contact_mm": site.contact,
        "touches_with": site.touches_with,
        "grounds_at_toe": site.grounds_at_toe,
        "joint_mm": site.joint,
        "joint_room_mm": site.joint_room_mm,
        "toe_step_mm": site.toe_step_mm,
    }


def _pose(pose: Pose) -> dict[str, float]:
    return {"inner_deg": math.degrees(pose.inner_rad), "fold_deg": math.degrees(pose.fold_rad)}


def _fold(evaluation: Evaluation) -> dict[str, Json]:
    fold, demanded_mm = evaluation.fold, evaluation.design.fold.clearance_mm
    stages = zip(fold.path.stages, fold.hand.stages, evaluation.hands, strict=True)
    return {
        "demanded_clearance_mm": demanded_mm,
        "stages": [{**_stage(fold, stage, pull), "hands": _hands(asked)} for stage, pull, asked in stages],
        "clearances": [_pair(pair) for pair in fold.clearance.pairs],
        "clashing_between": fold.clearance.spans_clashing,
        "meant_contacts": fold.clearance.contacts,
        "peak_hand_force": _pull(fold, fold.hand.peak),
        "room": {
            "in_front_mm": fold.envelope.in_front_mm,
            "above_ground_mm": fold.envelope.above_ground_mm,
            "above_deck_mm": fold.envelope.above_deck_mm,
            "over_deck_mm": fold.envelope.over_deck_mm,
        },
    }


def _stage(fold: FoldResult, stage: StageSpan, pull: StageForce) -> dict[str, Json]:
    path = zip(fold.path.at, fold.path.poses, strict=True)
    return {
        "say": stage.say,
        "ends_at": stage.end,
        "pose": _pose(stage.pose_end),
        "by_way_of": [_pose(pose) for share, pose in path if stage.start < share < stage.end],
        "hand_force": _pull(fold, pull),
    }


def _hands(asked: StageHands) -> dict[str, Json]:
    return {
        "places": [{"handle": one.handle, "force_n": one.force_n} for one in asked.places],
        "people": asked.needed or None,
        "at": asked.at,
        "pose": _pose(asked.pose),
    }


def _pull(fold: FoldResult, pull: StageForce) -> dict[str, Json]:
    return {
        "handle": pull.handle,
        "peak_n": pull.peak_n,
        "at": pull.at,
        "pose": _pose(fold.path.pose(pull.at)),
    }


def _pair(pair: PairClearance) -> dict[str, Json]:
    return {
        "what": pair.what,
        "clearance_mm": pair.clearance_mm,
        "certified_mm": pair.certified_mm,
        "at": pair.at,
        "pose": _pose(pair.pose),
        "members": [pair.member_a, pair.member_b],
        "points_mm": [pair.point_a, pair.point_b],
    }


def _joint(fold: FoldResult) -> dict[str, Json]:
    joint = fold.joint
    return {
        "held": joint.held,
        "by": joint.by,
        "words": joint.words,
        "lever_arm_mm": joint.lever_arm_mm,
        "play_deg": math.degrees(joint.play_rad),
        "drop_mm": joint.drop_mm,
    }


def _stowed(fold: FoldResult) -> dict[str, Json]:
    stowed = fold.stowed
    return {
        "pose": _pose(stowed.pose),
        "above_deck_mm": stowed.above_deck_mm,
        "below_deck_mm": stowed.below_deck_mm,
        "thickness_mm": stowed.thickness_mm,
        "over_deck_mm": stowed.over_deck_mm,
        "out_mm": stowed.out_mm,
        "centre_mm": stowed.centre,
    }


def _check(check: Check) -> dict[str, Json]:
    return {
        "id": check.id,
        "title": check.title,
        "subject": check.subject,
        "status": check.status,
        "result": check.result,
        "value": check.value,
        "value_text": check.value_text,
        "sense": check.sense,
        "limit": check.limit,
        "limit_text": check.limit_text,
        "unit": check.unit,
        "ratio": check.ratio,
        "warning_only": check.warning_only,
        "why": check.why,
        "source": {
            "rule_set": check.source.rule_set,
            "title": check.source.title,
            "clause": check.source.clause,
            "publication": check.source.publication,
        },
        "working": check.working,
        "member": check.member,
        "site_number": check.site_number,
        "at": check.share,
    }


def _why_not(evaluation: Evaluation) -> list[dict[str, Json]]:
    """Return the wishes that no ramp meets together, with the failing checks that none can pass for it."""
    design, rule_sets = evaluation.design, evaluation.rule_sets
    failing = [check for check in evaluation.all_checks if check.fails]
    found = clashes(design, rule_sets) if failing else ()
    barred: dict[int, list[str]] = {}
    for check in failing:
        bar = barring(found, check)
        if bar is not None:
            barred.setdefault(found.index(bar), []).append(check.id)
    return [
        {
            "clash": why.clash,
            "words": why_not_words(why, design, rule_sets),
            "wishes": [
                {"key": wish.key, "rule": wish.rule, "value": wish.value, "would_do": wish.would_do}
                for wish in why.wishes
            ],
            "needed": why.needed,
            "possible": why.possible,
            "site_number": why.site_number,
            "deck": why.state or "",
            "of_any_ramp": why.of_any,
            "checks": barred[number],
        }
        for number, why in enumerate(found)
        if number in barred
    ]


def _plain(value: Json) -> Json:
    """Return `value` with lists for tuples, plain text for status words, null for what is no finite number, 6
    decimals.
    """
    if isinstance(value, dict):
        return {str(key): _plain(inner) for key, inner in value.items()}  # pyright: ignore[reportUnknownVariableType,reportUnknownArgumentType]
    if isinstance(value, list | tuple):
        return [_plain(inner) for inner in value]  # pyright: ignore[reportUnknownVariableType]
    if isinstance(value, str):
        return str(value)
    if isinstance(value, float):
        return round(float(value), 6) if math.isfinite(value) else None
    return value
