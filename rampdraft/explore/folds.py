"""What takes more than one evaluation: the fold at each site, the spring that helps, what frees a fold, slats
that interleave.
"""

import math
from dataclasses import dataclass

from rampdraft.errors import DesignError
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.least_change import Line, Outcome, least_step
from rampdraft.mechanics.folding.clearance import closer_than
from rampdraft.mechanics.folding.clearance_map import clearance_map
from rampdraft.mechanics.folding.folding import closed_pose
from rampdraft.mechanics.folding.search import Blocked, FoundPath, find_fold, keeps
from rampdraft.model.design import Assist, Design
from rampdraft.model.fields.paths import value_at, with_value
from rampdraft.model.spacing import fixed, follows
from rampdraft.progress import Progress, nobody
from rampdraft.rounding import whole_steps
from rampdraft.units import MM, N
from rampdraft.words.figures import exact
from rampdraft.words.say import say

SLAM_N = 60.0
"""What a spring may push against the hand: more, and the ramp flies up or slams; common practice."""

COARSE_POINTS = 61
"""A coarser map serves to try many designs; the answer is tried again on the full one."""

FREEING = (
    "joint.height_mm",
    "deck_hinge.out_mm",
    "deck_hinge.below_mm",
    "deck_hinge.height_mm",
    "inner_leaf.slat_last_gap_mm",
    "outer_leaf.slat_first_mm",
    "inner_leaf.upstand_start_mm",
    "inner_leaf.upstand_end_gap_mm",
    "inner_leaf.upstand_height_mm",
    "outer_leaf.upstand_start_mm",
    "outer_leaf.upstand_height_mm",
    "outer_leaf.length_mm",
    "stop.fixed_length_mm",
    "fold.stowed_deg",
)
"""Dimensions that may free a fold, each tried alone, both ways, where it does not follow from others."""

WIDENING = (1.0, 2.0, 5.0, 10.0, 20.0, 40.0, 80.0)
"""How far each is moved, in its own unit, until the fold is free; then the least change is narrowed down to
half a unit.
"""

NARROW = 0.5

_INTERLEAVED = tuple(
    f"{leaf}.{name}" for leaf in ("inner_leaf", "outer_leaf") for name in ("slat_pitch_mm", "slat_first_mm")
)
"""What slats that fall into gaps need, so that it no longer follows from anything else."""

FAILS = Outcome(passes=False, excess=None, used=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Spring:
    """An assist spring and what it leaves to the hand."""

    assist: Assist
    peak_n: N
    """Greatest force by size."""
    least_n: N
    """Least force: negative where the spring pushes against the hand."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Freed:
    """One dimension that alone frees the fold, and the least change that does."""

    path: str
    before: float
    after: float
    found: FoundPath


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteFold:
    """The way to fold from where the ramp stands at one site."""

    site: str
    site_number: int
    found: FoundPath | Blocked


@dataclass(frozen=True, slots=True, kw_only=True)
class Interleaved:
    """Slats of faces-together leaves that fall into each other's gaps."""

    pitch_mm: MM
    inner_first_mm: MM
    outer_first_mm: MM
    opening_mm: MM
    """What the running surface is then open between slats."""
    clearance_mm: MM
    """Certified over the fold."""
    design: Design


def folds_at_sites(evaluation: Evaluation, progress: Progress = nobody) -> tuple[SiteFold, ...]:
    """Return the way to fold found at each site's ground, with the deck empty, or what blocks it there.

    Raises what `progress` raises.
    """
    design, assembly = evaluation.design, evaluation.assembly
    folds: list[SiteFold] = []
    for site, stood in zip(design.sites, evaluation.empty, strict=True):
        progress(len(folds) / len(design.sites), "")
        found = find_fold(design, assembly, site, stood.pose)
        folds.append(SiteFold(site=site.name, site_number=stood.site_number, found=found))
    return tuple(folds)


def size_spring(evaluation: Evaluation, limit_n: N) -> Spring | None:
    """Return the weakest spring of the design's kind and fixing points that brings the peak of the fold under
    the limit.

    None where none does without pushing against the hand by more than SLAM_N, or where the design has no
    assist spring.
    """
    kind = evaluation.design.assist.kind
    if kind == "none":
        return None
    strength = {"torsion": "assist.rate_nmm_deg", "gas": "assist.force_n"}[kind]

    def tried(amount: float) -> Spring:
        trial = evaluation.changed(strength, amount)
        peak, least = abs(trial.hand.peak.peak_n), float(trial.hand.force_n.min())
        return Spring(assist=trial.design.assist, peak_n=peak, least_n=least)

    def helps(spring: Spring) -> bool:
        return spring.peak_n <= limit_n and spring.least_n >= min(-SLAM_N, unaided.least_n)

    unaided = tried(0.0)
    line = Line(origin=0, sign=1, grid=1.0, last={"torsion": 20000, "gas": 5000}[kind])
    tries = sorted({math.ceil(line.last * 1.08 ** (step - 80)) for step in range(81)})
    if helps(unaided):
        return unaided
    found = least_step(line, FAILS, lambda amount: _outcome(helps(tried(amount))), tries)
    return None if found is None else tried(found)


def freeing_dimensions(evaluation: Evaluation, progress: Progress = nobody) -> tuple[Freed, ...]:
    """Return the dimensions that alone free a blocked fold, the least change first; nothing where none does.

    Each is moved both ways until the coarse map joins deployed and stowed, the change narrowed, and the fold
    found and certified on the full map. Raises what `progress` raises.
    """
    freed: list[Freed] = []
    typed = [path for path in FREEING if not follows(evaluation.design, path)]
    for number, path in enumerate(typed):
        progress(number / len(typed), "")
        freed += [one for sign in (1.0, -1.0) if (one := _freed(evaluation, path, sign)) is not None]
    return tuple(sorted(freed, key=lambda one: abs(one.after - one.before)))


def _freed(evaluation: Evaluation, path: str, sign: float) -> Freed | None:
    before = float(value_at(evaluation.design, path))
    line = Line(origin=0, sign=1, grid=NARROW, last=round(WIDENING[-1] / NARROW))
    tries = tuple(round(step / NARROW) for step in WIDENING)

    def opens(steps: int) -> Outcome:
        return _outcome(_opens(evaluation, path, before + sign * steps * NARROW))

    found = least_step(line, FAILS, opens, tries)
    if found is None:
        return None
    for spare in (0.0, NARROW, 2 * NARROW, 4 * NARROW):  # the coarse map may be a little too kind
        after = round(before + sign * (found * NARROW + spare), 3)
        try:
            trial = evaluation.changed(path, after)
        except DesignError:
            return None
        way = find_fold(trial.design, trial.assembly, trial.first_site, trial.deployed)
        if isinstance(way, FoundPath):
            return Freed(path=path, before=before, after=after, found=way)
    return None


def _outcome(passes: bool) -> Outcome:
    return Outcome(passes=passes, excess=None, used=None)


def _opens(evaluation: Evaluation, path: str, value: float) -> bool:
    """Return whether the coarse map of a design with this value joins its deployed to its stowed pose
    with the demanded clearance.
    """
    try:
        trial = evaluation.changed(path, value)
    except DesignError:
        return False
    design, assembly, site = trial.design, trial.assembly, trial.first_site
    deployed, stowed = trial.deployed, closed_pose(design)
    demanded = design.fold.clearance_mm
    if any(closer_than(design, assembly, pose, site, demanded) for pose in (deployed, stowed)):
        return False
    surface = clearance_map(design, assembly, site, deployed.inner_rad, COARSE_POINTS)
    return keeps(surface, deployed, stowed, demanded)


def interleave(evaluation: Evaluation, gap_mm: MM) -> Interleaved | str:
    """Return slat pitch and first offsets with which faces-together leaves close slat into gap, or why none
    do.

    Closed at 180 degrees, the outer leaf's slats lie mirrored about the joint: with the pitch p = b + b' + 2
    gap on both leaves they fall into the middle of the gaps when A - f' - b' = f + b + gap + m p for some
    whole m. The whole swing is then certified.
    """
    design = evaluation.design
    for path in _INTERLEAVED:
        design = fixed(design, path)
    inner, outer, joint = design.inner_leaf, design.outer_leaf, design.joint
    if design.fold.closing != "faces" or design.fold.closed_deg != 180:
        return say("Only leaves that close faces together, at 180 degrees, can fall into each other's gaps.")
    thick = max(inner.slat_thickness_mm, outer.slat_thickness_mm)
    if 2 * joint.height_mm - thick < gap_mm:
        least = (thick + gap_mm) / 2
        return say(
            "The slats of one leaf would meet the rails of the other: set the joint {least}"
            " or more above the rails.",
            least=exact(least, "mm"),
        )
    pitch = inner.slat_width_mm + outer.slat_width_mm + 2 * gap_mm
    first = inner.slat_first_mm
    reach = inner.length_mm - outer.slat_width_mm - first - inner.slat_width_mm - gap_mm
    nearest = outer.slat_first_mm
    for laps in range(whole_steps(reach - nearest, pitch, inner.length_mm), -1, -1):
        offset = max(reach - laps * pitch, nearest)
        tried = with_value(
            with_value(design, "inner_leaf.slat_pitch_mm", pitch), "outer_leaf.slat_pitch_mm", pitch
        )
        tried = with_value(tried, "outer_leaf.slat_first_mm", offset)
        try:
            clearance = _certified(evaluation.following(tried))
        except DesignError:
            continue
        if clearance >= gap_mm - NARROW:
            return Interleaved(
                pitch_mm=pitch,
                inner_first_mm=first,
                outer_first_mm=offset,
                opening_mm=pitch - min(inner.slat_width_mm, outer.slat_width_mm),
                clearance_mm=clearance,
                design=tried,
            )
    return say(
        "No first offset of the outer leaf's slats lets both leaves close with {gap} between slats.",
        gap=exact(gap_mm, "mm"),
    )


def _certified(evaluation: Evaluation) -> MM:
    slats = (
        pair.certified_mm
        for pair in evaluation.clearance.pairs
        if pair.kin[0].body == "inner" and any(kin.role == "slat" for kin in pair.kin)
    )
    return min(slats, default=math.inf)
