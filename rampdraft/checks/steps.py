"""The steps of the job, in order: which values matter for each, which views show it and which checks judge
it; what fails in a step, and what it needs next.

Nobody else says what belongs to a step. Every check has one step, every value at least one. Logic reads keys:
paths of values, kinds of checks, names of views.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Final, Literal

from rampdraft.checks.quantities.table import left_open
from rampdraft.checks.result import Check, Result, tally
from rampdraft.errors import Problem
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import value_at
from rampdraft.words.say import counted, say

ViewKey = Literal[
    "side", "fold_map", "rolling", "plan", "end", "solid", "strength", "carrier", "pieces", "users", "compare"
]

_LEAVES: Final = ("inner_leaf", "outer_leaf")


def _both(*names: str) -> tuple[str, ...]:
    return tuple(f"{leaf}.{name}" for leaf in _LEAVES for name in names)


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of the job."""

    key: str
    title: str
    about: str
    """What is done in it, in a few words."""
    fields: tuple[str, ...]
    """Paths of values or of whole groups, rows without their numbers: `sites.name`."""
    views: tuple[ViewKey, ...]
    """What shows it, first what is opened with it."""
    kinds: tuple[str, ...]
    """Kinds of checks; with a `*` behind it the beginning of them."""
    wants: tuple[str, ...] = ()
    """Paths of rows without which it cannot be judged."""

    @property
    def name(self) -> str:
        """Return its title in the language that holds."""
        return say(self.title, "step")

    def has_field(self, path: str) -> bool:
        """Return whether a value matters for the step."""
        bare = re.sub(r"\[(\d+|\*)\]", "", path)
        return any(bare == one or bare.startswith(f"{one}.") for one in self.fields)

    def has_kind(self, kind: str) -> bool:
        """Return whether the step is judged by checks of a kind."""
        return any(kind.startswith(one[:-1]) if one.endswith("*") else kind == one for one in self.kinds)


STEPS: Final = (
    Step(
        key="survey",
        title="Survey",
        about="where it is used, by whom, and the room there is",
        fields=(
            "about.name", "carrier.deck_height_mm", "carrier.deck_drop_mm",
            "carrier.opening_width_mm", "carrier.stow_height_mm", "carrier.stow_out_mm",
            "carrier.stow_in_mm", "carrier.head_room_mm", "carrier.end_depth_mm", "carrier.end_setback_mm",
            "sites", "use.rated_load_kg", "use.rule_sets", "use.users.name", "use.users.kind",
            "use.users.mass_kg", "use.users.width_mm", "use.users.attendant_kg", "hands.people", "obstacles",
            "wishes.first", "wishes.gentler_than", "wishes.welds", "wishes.lathe", "wishes.buys",
        ),
        views=("side", "users"),
        kinds=("own/rule-sets", "own/user-load", "rated_load", "cross_slope"),
        wants=("sites", "use.users"),
    ),
    Step(
        key="size",
        title="Size",
        about="the shortest leaves that are gentle enough everywhere and still stow",
        fields=(
            *_both("length_mm", "width_mm"), "fold.closing", "toe.kind", "toe.length_mm", "prop.fitted",
            "prop.shortest_mm", "prop.longest_mm", "carrier.deck_height_mm", "carrier.deck_drop_mm",
            "carrier.opening_width_mm", "carrier.stow_height_mm", "carrier.stow_out_mm",
            "carrier.stow_in_mm", "wishes.gentler_than",
        ),
        views=("side", "plan", "end", "solid"),
        kinds=(
            "gradient", "leaf_gradient", "flap_gradient", "rise", "going", "clear_width", "surface_width",
            "own/opening", "own/stowed", "own/ends-stowed", "own/toe", "own/prop", "own/prop-short",
            "own/prop-free", "own/user-width", "own/survey-width", "own/usual-width",
        ),
    ),
    Step(
        key="fold",
        title="Fold",
        about="hinge centres, which way it closes, and room all the way",
        fields=(
            "fold", "deck_hinge", "joint", "stop", *_both("slats", "slat_greatest_gap_mm", "slat_ends"),
            *_both("slat_pitch_mm", "slat_first_mm", "slat_last_gap_mm"), "toe.carried_deg",
            "bridge.turned_back", "fold_stages", "obstacles", "carrier.end_depth_mm",
            "carrier.end_setback_mm", "carrier.head_room_mm",
        ),
        views=("side", "fold_map", "solid"),
        kinds=("own/clearance", "own/bridge-room", "own/bridge"),
    ),
    Step(
        key="roll",
        title="Roll",
        about="no step, gap or angle that stops or tips a wheel",
        fields=(
            *_both("slats", "slat_greatest_gap_mm", "slat_ends", "slat_width_mm", "slat_thickness_mm"),
            *_both("slat_pitch_mm", "slat_first_mm", "slat_last_gap_mm"),
            *_both("upstands", "upstand_height_mm", "upstand_thickness_mm"),
            *_both("upstand_start_mm", "upstand_end_gap_mm"), "deck_hinge.out_mm", "deck_hinge.below_mm",
            "bridge", "toe", "use.wet_grip", "use.users",
        ),
        views=("rolling", "side", "solid", "users"),
        kinds=(
            "grade_change", "step", "deck_step", "joint_step", "toe_step", "opening", "vehicle_gap",
            "edge_height", "edge_gap", "edge_end", "side_stop", "tracks", "own/bump", "own/aside/*",
            "own/grip", "own/user-tips", "own/roll-*",
        ),
        wants=("use.users",),
    ),
    Step(
        key="hold",
        title="Hold",
        about="rails, slats, joint, pins and welds with the load anywhere",
        fields=(
            "use.rated_load_kg", *_both("rail_section"), "rails", *_both("rail_lanes_mm"),
            *_both("cross_section", "cross_members", "cross_count", "cross_greatest_mm"),
            *_both("cross_positions_mm", "cross_fitting", "half_lap_mm"),
            *_both("slat_width_mm", "slat_thickness_mm"), "made_of", "materials",
            "deck_hinge.knuckle_diameter_mm", "deck_hinge.knuckle_length_mm", "deck_hinge.pin_diameter_mm",
            "joint.knuckle_diameter_mm", "joint.knuckle_length_mm", "joint.pin_diameter_mm", "stop", "prop",
            "toe.closed", "toe.hinge_pin_mm", "toe.hinge_knuckle_mm", "bridge.hinge_pin_mm",
            "bridge.hinge_knuckle_mm", "bridge.screws", "bridge.screw_size", "joining", "use.bump_factor",
            "use.overall_factor", "use.sag_limit", "use.crossings", "use.service_class",
            "sites.ground_bears_kpa",
        ),
        views=("strength", "plan"),
        kinds=(
            "strength", "overall_factor", "proof_load", "joint_held", "own/held", "own/strength", "own/sag",
            "own/overall-factor", "own/no-mechanism", "own/crossings", "own/crowd", "own/ground",
            "own/prop-kick", "own/stop", "own/bolt-edge", "own/bolt-beside",
            "own/bracket-apart", "own/attached",
        ),
    ),
    Step(
        key="carrier",
        title="Carrier",
        about="how far it drops and leans, and whether a support lifts",
        fields=(
            "carrier.deck_drop_mm", "carrier.deck_length_mm", "carrier.deck_thickness_mm",
            "carrier.end_depth_mm", "carrier.end_setback_mm", "supports", "carrier_body", "road.held_n",
        ),
        views=("carrier",),
        kinds=("own/carrier-*", "own/toe-slides"),
    ),
    Step(
        key="handle",
        title="Handle",
        about="who lifts it, what helps, and what holds it stowed",
        fields=("hands", "handles", "assist", "hold_down", "road", "fold.stowed_deg", "fold_stages"),
        views=("side", "solid"),
        kinds=(
            "deploying_force", "own/hands", "own/hands-guideline", "own/fall", "own/stays-down",
            "own/falls-back", "own/rebound", "own/stow-latch", "own/stow-leans", "own/second-lock",
            "own/latch-line",
        ),
    ),
    Step(
        key="build",
        title="Build",
        about="every piece, the fewest stock lengths, how it is joined",
        fields=(
            "about", "stock", "prices", "workshop", "made_of", "materials", "joining", "wishes", "rails",
            *_both("rail_lanes_mm", "knuckle_shift_mm", "cross_fitting", "half_lap_mm"),
            "deck_hinge.running_clearance_mm", "deck_hinge.side_gap_mm", "joint.running_clearance_mm",
            "joint.side_gap_mm",
        ),
        views=("pieces", "plan", "side", "end", "solid"),
        kinds=("own/through",),
    ),
    Step(
        key="prove",
        title="Prove",
        about="test it by load, mark it, and hand it over",
        fields=(
            "about", "use.rated_load_kg", "use.rule_sets", "use.overall_factor", "use.crossings",
            "use.wet_grip",
        ),
        views=("side", "strength", "compare"),
        kinds=("marking", "edge_stripe", "landing", "slip_resistance"),
    ),
)  # fmt: skip
"""As the work goes."""

BY_KEY: Final = {step.key: step for step in STEPS}


@cache
def step_of_kind(kind: str) -> str:
    """Return the key of the step that checks of a kind judge; empty for a kind of none."""
    return next((step.key for step in STEPS if step.has_kind(kind)), "")


def steps_of_field(path: str) -> tuple[str, ...]:
    """Return the keys of the steps that a value matters for."""
    return tuple(step.key for step in STEPS if step.has_field(path))


def checks_of(step: str, checks: Iterable[Check]) -> tuple[Check, ...]:
    """Return the checks that judge a step, in their order; all of them for no step."""
    return tuple(check for check in checks if not step or step_of_kind(check.about.kind) == step)


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """How a step stands."""

    wrong: int
    """Values that can't be."""
    fails: int
    unjudged: int
    close: int
    """What is close to its limit, or advice."""
    passes: int

    @property
    def result(self) -> Result:
        """Return the worst that is to be told of it: what is close still passes."""
        if self.fails or self.wrong:
            return Result.FAILS
        if self.unjudged or not (self.close or self.passes):
            return Result.UNJUDGED
        return Result.PASSES

    @property
    def words(self) -> tuple[str, ...]:
        """Return the lines that tell it."""
        told = (
            (self.wrong, say("{count} to correct", count=self.wrong)),
            (self.fails, counted(self.fails, "{count} fails", "{count} fail")),
            (self.unjudged, say("{count} not judged", count=self.unjudged)),
        )
        lines = tuple(words for count, words in told if count)
        if lines:
            return lines
        return (say("passes" if self.close or self.passes else "no check yet"),)


def standing(step: str, problems: Sequence[Problem], checks: Sequence[Check]) -> Standing:
    """Return how a step stands, or the whole for no step."""
    counts = tally(checks_of(step, checks))
    return Standing(
        wrong=sum(not step or BY_KEY[step].has_field(problem.key) for problem in problems),
        fails=counts[Result.FAILS],
        unjudged=counts[Result.UNJUDGED],
        close=counts[Result.CLOSE] + counts[Result.ADVICE],
        passes=counts[Result.PASSES],
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """What a step needs next."""

    kind: Literal["value", "rows", "cure", "judge", "step", "pack"]
    """A value to correct, rows to add, a failing check to cure, one to be judged, another step, the pack."""
    key: str = ""
    """Path of the value or the rows, or key of the step."""
    check: Check | None = None
    fails: int = 0
    """So many fail in the other step; 0 where nothing does in any."""


def need_of(step: str, design: Design, problems: Sequence[Problem], checks: Sequence[Check]) -> Need:
    """Return what a step needs next, or the whole for no step: first what bars all else."""
    wrong = [problem.key for problem in problems if not step or BY_KEY[step].has_field(problem.key)]
    wrong += [problem.key for problem in problems]
    if wrong:
        return Need(kind="value", key=wrong[0])
    for path in BY_KEY[step].wants if step else ():
        if not value_at(design, path):
            return Need(kind="rows", key=path)
    mine = checks_of(step, checks)
    failing = next((check for check in mine if check.result is Result.FAILS), None)
    if failing is not None:
        return Need(kind="cure", check=failing)
    unjudged = next((check for check in left_open(mine)), None)
    if unjudged is not None:
        return Need(kind="judge", check=unjudged)
    return _elsewhere(step, problems, checks)


def _elsewhere(step: str, problems: Sequence[Problem], checks: Sequence[Check]) -> Need:
    """Return the next step where something fails, from this one on; else the next one, and after the last
    what the workshop gets.
    """
    at = list(BY_KEY).index(step) if step else len(STEPS) - 1
    for other in (*STEPS[at + 1 :], *STEPS[:at]):
        fails = standing(other.key, problems, checks).fails
        if fails:
            return Need(kind="step", key=other.key, fails=fails)
    following = STEPS[at + 1 : at + 2]
    return Need(kind="step", key=following[0].key) if following else Need(kind="pack")
