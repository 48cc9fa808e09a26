"""What follows from a design: every stage, what it reads and needs, and the function that makes it."""

from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any, Final

from rampdraft.checks.demands.crossings import crossing_checks
from rampdraft.checks.demands.own import clearance_checks, own_checks
from rampdraft.checks.demands.staying import staying_checks
from rampdraft.checks.demands.steadiness import steadiness_checks, unladen_checks
from rampdraft.checks.demands.strength import strength_checks
from rampdraft.checks.quantities.table import QUANTITIES, LoadQuantity, UnknownQuantity
from rampdraft.checks.result import Check, Subjects, worst_first
from rampdraft.checks.rules.judging import Place, in_order, judge, judge_limit
from rampdraft.checks.rules.rule import Limit, RuleSet, all_loads
from rampdraft.checks.rules.sets import rule_sets_for
from rampdraft.evaluation.graph import Graph
from rampdraft.evaluation.stage import Stage
from rampdraft.geometry.buildable.problems import require_buildable
from rampdraft.geometry.linkage import Pose
from rampdraft.geometry.members.assembly import assemble
from rampdraft.geometry.members.member import Assembly
from rampdraft.mechanics.carrier.at_rest import carrier_at_rest
from rampdraft.mechanics.carrier.standing import climbed, edge_drop_mm, loaded_drop_mm, unladen
from rampdraft.mechanics.folding.clearance import fold_clearance
from rampdraft.mechanics.folding.clearance_map import ClearanceMap, clearance_map
from rampdraft.mechanics.folding.envelope import envelope as fold_envelope
from rampdraft.mechanics.folding.folding import fold_path
from rampdraft.mechanics.folding.folding import stowed as stowed_size
from rampdraft.mechanics.handling.hand_force import hand_force
from rampdraft.mechanics.handling.staying import staying
from rampdraft.mechanics.joint import joint_verdict
from rampdraft.mechanics.loading.carrying import carry
from rampdraft.mechanics.loading.loads import Grades
from rampdraft.mechanics.results import (
    Clearance,
    Envelope,
    FoldPath,
    FoldResult,
    HandForce,
    JointVerdict,
    SitePose,
    Stowed,
)
from rampdraft.mechanics.standing.standing import (
    Straightened,
    stand_at,
    stand_empty,
    stand_loaded,
    straightened,
)
from rampdraft.model.design import Design, Site
from rampdraft.model.fields.paths import changed
from rampdraft.shop.parts import CuttingPlan, Part, cutting_plan, part_list
from rampdraft.strength.members import Members, Verdict, fixed_on, members_of, verdicts
from rampdraft.units import KG, MM

_KERB_REACH_MM: Final = 20000.0
"""How far a reference kerb goes on level; the ground of a site goes on level beyond its ends anyway."""


# What stages read, where several read the same.
LEAVES: Final = ("inner_leaf", "outer_leaf")
RAMP: Final = (*LEAVES, "deck_hinge", "joint", "stop", "prop", "toe", "fold.closing")
"""What the ramp is, but for its bridge plate and what it is made of."""
PLACED: Final = (*RAMP, "carrier.deck_height_mm", "sites")
"""What it stands on."""
BUILT: Final = (*RAMP, "bridge", "made_of", "materials", "workshop.slat_screw_mm")
"""What its members are."""
SPANS: Final = ("inner_leaf.length_mm", "outer_leaf.length_mm", "prop.fitted")
"""What it spans as a beam."""
BEARING: Final = (
    *(
        f"{leaf}.{name}"
        for leaf in LEAVES
        for name in ("width_mm", "rail_section", "rail_lanes_mm", "knuckle_shift_mm", "cross_positions_mm")
    ),
    *SPANS, "joint.height_mm", "stop", "toe.kind", "toe.length_mm", "fold.closing", "made_of.rails",
    "materials",
)  # fmt: skip
"""What its members bear as a beam, besides their weight."""
FOLDS: Final = (*LEAVES, "deck_hinge", "joint", "carrier.deck_height_mm")
"""What its two bars are, and where they hang."""
BEHIND: Final = (
    "carrier.deck_length_mm", "carrier.deck_thickness_mm", "carrier.end_depth_mm",
    "carrier.end_setback_mm", "obstacles",
)  # fmt: skip
"""What it may meet besides the ground."""
USERS: Final = ("use.users", "use.rated_load_kg")
SUPPORTED: Final = (*SPANS, "carrier_body", "supports", "deck_hinge.out_mm")
"""What the empty carrier weighs, and stands on."""
CLIMBED: Final = (
    *SPANS, *USERS, "inner_leaf.width_mm", "outer_leaf.width_mm", "deck_hinge.out_mm",
    "carrier.deck_length_mm",
)  # fmt: skip
"""Who climbs, and on what."""
LIMITS: Final = ("inner_leaf.length_mm", "outer_leaf.length_mm", "toe", "carrier.deck_height_mm")
"""What says which limit applies."""

CROSSED: Final = ("cross_positions_mm", "cross_fitting", "cross_section")
"""Of a leaf, where cross members are welded to its rails."""

SLOPES: Final = (
    "gradient", "leaf_gradient", "flap_gradient", "cross_slope", "grade_change", "rise", "going",
)  # fmt: skip
SURFACE: Final = ("clear_width", "surface_width", "opening", "tracks")
STEPS: Final = ("vehicle_gap", "step", "deck_step", "joint_step", "toe_step")
EDGES: Final = ("edge_height", "edge_gap", "edge_end", "side_stop")
HOLDING: Final = ("joint_held", "rated_load")
HANDLING: Final = ("deploying_force",)
LOADED: Final = tuple(name for name, one in QUANTITIES.items() if isinstance(one, LoadQuantity))
UNKNOWN: Final = tuple(name for name, one in QUANTITIES.items() if isinstance(one, UnknownQuantity))
"""Quantities of rules, by what they need."""


class Judged(Stage[tuple[Check, ...]]):
    """The stage of checks that the program itself makes of its needs."""

    def __init__(
        self,
        check: Callable[[Subjects], Iterable[Check]],
        *,
        reads: tuple[str, ...] = (),
        needs: tuple[Stage[Any], ...] = (),
    ) -> None:
        super().__init__(self._judge, reads=reads, needs=needs)
        self.check = check

    def _judge(self, design: Design, *made: Any) -> tuple[Check, ...]:
        return tuple(self.check(_subjects(design, self.needs, made)))


class Ruled(Stage[Mapping[Place, tuple[Check, ...]]]):
    """The stage of the limits that rules set to some quantities; the rule sets are its first need."""

    def __init__(
        self, quantities: tuple[str, ...], *, reads: tuple[str, ...] = (), needs: tuple[Stage[Any], ...] = ()
    ) -> None:
        super().__init__(self._judge, reads=(*LIMITS, *reads), needs=needs)
        self.quantities = quantities

    def _judge(
        self, design: Design, rule_sets: tuple[RuleSet, ...], *made: Any
    ) -> Mapping[Place, tuple[Check, ...]]:
        return judge(_subjects(design, self.needs[1:], made), rule_sets, self.quantities)

    def alone(self, one: Graph, rule_set: RuleSet, limit: Limit) -> tuple[Check, ...]:
        """Return the checks of one limit, without the others of its quantities where those are not made."""
        if one.stands(self):
            return one.made(self)[rule_set.key, limit.id]
        made = tuple(one.made(need) for need in self.needs[1:])
        return tuple(judge_limit(_subjects(one.design, self.needs[1:], made), rule_set, limit))


def _subjects(design: Design, needs: tuple[Stage[Any], ...], made: tuple[Any, ...]) -> Subjects:
    return Subjects(design, {need.name: one for need, one in zip(needs, made, strict=True)})


def _first_site(design: Design) -> Site:
    return design.sites[0]


def _grades(_: Design, sites: tuple[SitePose, ...]) -> Grades:
    """Return the most and the least grade of a leaf at any site, the level deck and ground among them, the
    steepest first; what comes of a grade between them lies between, since it goes along with the load moved.
    """
    found = [0.0, *(leaf.ratio for pose in sites if pose.reaches for leaf in (pose.inner, pose.outer))]
    return tuple(sorted({max(found), min(found)}, key=lambda grade: (-abs(grade), grade)))


def _leaves_kg(_: Design, assembly: Assembly) -> tuple[KG, KG]:
    return assembly.leaves_kg


def _deployed(_: Design, empty: tuple[SitePose, ...]) -> Pose:
    return empty[0].pose


def _in_both_states(
    design: Design, straight: Straightened, empty: tuple[SitePose, ...], drop_mm: MM
) -> tuple[SitePose, ...]:
    pairs = zip(empty, stand_loaded(design, straight, drop_mm), strict=True)
    return tuple(pose for pair in pairs for pose in pair)


def _on_kerbs(
    design: Design, straight: Straightened, drop_mm: MM, rule_sets: tuple[RuleSet, ...]
) -> Mapping[MM, tuple[SitePose, ...]]:
    """Return the ramp on the rules' reference kerbs, deck empty and, if it sinks, loaded."""
    drops = (None, drop_mm) if drop_mm > 0 else (None,)
    heights = {limit.kerb_mm for rules in rule_sets for limit in rules.limits if limit.kerb_mm is not None}
    return {
        height: tuple(stand_at(design, straight, _kerb(height), 0, drop) for drop in drops)
        for height in heights
    }


def _kerb(height_mm: MM) -> Site:
    ground = ((0.0, height_mm), (_KERB_REACH_MM, height_mm))
    return Site(name=f"{height_mm:g} mm kerb (reference)", kind="kerb", ground_mm=ground)


def _fold_path(design: Design, site: Site, deployed: Pose) -> FoldPath:
    return fold_path(design, site, deployed)


def _clearance(design: Design, assembly: Assembly, path: FoldPath, site: Site) -> Clearance:
    return fold_clearance(design, assembly, path, site)


def _clearance_map(design: Design, assembly: Assembly, site: Site, deployed: Pose) -> ClearanceMap:
    return clearance_map(design, assembly, site, deployed.inner_rad)


def _fold(
    _: Design,
    path: FoldPath,
    clearance: Clearance,
    hand: HandForce,
    envelope: Envelope,
    stowed: Stowed,
    joint: JointVerdict,
) -> FoldResult:
    return FoldResult(
        path=path, clearance=clearance, hand=hand, envelope=envelope, stowed=stowed, joint=joint
    )


def _verdicts(_: Design, strengths: Members) -> tuple[Verdict, ...]:
    return verdicts(strengths)


def _parts(_: Design, assembly: Assembly) -> tuple[Part, ...]:
    return part_list(assembly)


def _plan(design: Design, parts: tuple[Part, ...]) -> CuttingPlan:
    return cutting_plan(parts, design)


def _checks(
    _: Design,
    rule_sets: tuple[RuleSet, ...],
    *found: Any,
) -> tuple[Check, ...]:
    own, ruled = found[: -len(Evaluation.by_rules)], found[-len(Evaluation.by_rules) :]
    return worst_first((*(check for checks in own for check in checks), *in_order(rule_sets, ruled)))


def given(_: Design) -> Any:
    """Raise: what an evaluation is given is not made."""
    raise LookupError("the rule sets are given, not made")


class Evaluation(Graph):
    """All that follows from a design. What is asked for is made, and kept; nothing of it ever changes."""

    def __init__(
        self,
        design: Design,
        rule_sets: tuple[RuleSet, ...],
        folder: Path | None = None,
        before: "Evaluation | None" = None,
    ) -> None:
        super().__init__(design, {"rule_sets": rule_sets}, before)
        self.folder = folder

    def following(self, design: Design) -> "Evaluation":
        """Return the evaluation of another design; it shares every stage that reads no part that differs.

        Rule files are read again only where the design names others. Raises as `evaluate` does.
        """
        require_buildable(design, beside=self.design)
        same = design.use.rule_sets == self.design.use.rule_sets
        rule_sets = self.rule_sets if same else rule_sets_for(design, self.folder)
        return Evaluation(design, rule_sets, self.folder, before=self)

    def changed(self, path: str, value: Any) -> "Evaluation":
        """Return the evaluation of the design with the value, or the values, at a path replaced."""
        return self.following(changed(self.design, path, value))

    def site_pose(self, number: int, state: str) -> SitePose:
        """Return the pose at a site, counted from 1, with the deck `empty` or `loaded`."""
        return next(pose for pose in self.sites if pose.site_number == number and pose.state == state)

    rule_sets = Stage[tuple[RuleSet, ...]](given, reads=("use.rule_sets",))
    """Those that the design names, in its order, each once: read from their files, not made."""

    assembly = Stage(assemble, reads=BUILT)
    at_rest = Stage(carrier_at_rest, reads=SUPPORTED, needs=(assembly,), settles=True)
    """The empty carrier on its supports; None where none are described."""
    edge_drop_mm = Stage(edge_drop_mm, reads=USERS, needs=(at_rest,), settles=True)
    """How far the loaded deck sinks by what follows from its supports; None where nothing does."""
    drop_mm = Stage(loaded_drop_mm, reads=("carrier", "deck_hinge"), needs=(edge_drop_mm,), settles=True)
    """How far the loaded deck sinks: by what follows from its supports, else as measured."""
    unladen = Stage(unladen, reads=("carrier_body.twist_mm", "supports"), needs=(at_rest, edge_drop_mm))
    """The carrier on its supports while nobody climbs; None where none are described."""
    standing = Stage(climbed, reads=CLIMBED, needs=(at_rest, unladen))
    """The carrier on its supports as users come up; None where none are described."""
    first_site = Stage(_first_site, reads=("sites",), settles=True)
    """On whose ground the ramp folds."""
    straight = Stage(straightened, reads=(*RAMP, "carrier.deck_height_mm"), needs=(assembly,))
    """The ramp as it is let down, the joint at its stop."""
    empty = Stage(stand_empty, reads=PLACED, needs=(straight,))
    """The ramp at each site with the deck empty."""
    deployed = Stage(_deployed, needs=(empty,), settles=True)
    """The pose at the first site: where the fold begins."""
    sites = Stage(_in_both_states, reads=PLACED, needs=(straight, empty, drop_mm))
    """Each site with the deck empty, then loaded."""
    kerbs = Stage(_on_kerbs, reads=PLACED, needs=(straight, drop_mm, rule_sets))
    """The ramp on each level reference kerb of the rules, by its height."""

    path = Stage(_fold_path, reads=(*FOLDS, "toe", "fold", "fold_stages"), needs=(first_site, deployed))
    clearance = Stage(
        _clearance, reads=(*FOLDS, *BEHIND, "fold.clearance_mm"), needs=(assembly, path, first_site)
    )
    hand = Stage(hand_force, reads=(*FOLDS, "handles", "assist", "toe"), needs=(assembly, path))
    envelope = Stage(fold_envelope, reads=FOLDS, needs=(assembly, path))
    stowed = Stage(stowed_size, reads=(*FOLDS, "fold"), needs=(assembly,))
    joint = Stage(joint_verdict, reads=RAMP, settles=True)
    fold = Stage(_fold, needs=(path, clearance, hand, envelope, stowed, joint))
    """The fold, whole."""
    clearance_map = Stage(
        _clearance_map, reads=(*FOLDS, *BEHIND, "fold"), needs=(assembly, first_site, deployed), aside=True
    )

    grades = Stage(_grades, needs=(sites,), settles=True)
    """The slopes that loads are looked at on."""
    loads = Stage(all_loads, reads=(*LIMITS, "use"), needs=(rule_sets, grades))
    """Every load that the ramp is judged under."""
    leaves_kg = Stage(_leaves_kg, needs=(assembly,), settles=True)
    carried = Stage(carry, reads=BEARING, needs=(leaves_kg, loads))
    """What the members carry under every load that the ramp is judged under."""

    strengths = Stage(members_of, reads=(*BUILT, "assist", "joining", "use.service_class"), needs=(carried,))
    """The members as they are judged under whichever load."""
    verdicts = Stage(_verdicts, needs=(strengths,))
    """What they use of their strength under the users and the rated load."""

    fixed_on = Stage(
        fixed_on,
        reads=(*LEAVES, "made_of", "materials", "joining", "workshop", "use.service_class"),
        needs=(carried,),
    )
    """Upstands and slats as they are judged under wheels."""
    fixed = Stage(_verdicts, needs=(fixed_on,))

    staying = Stage(staying, reads=(*PLACED, "fold", "assist", "hold_down"), needs=(assembly, sites))
    """How the empty ramp stays down at each site that it reaches."""

    parts = Stage(_parts, needs=(assembly,))
    plan = Stage(_plan, reads=("workshop", "stock"), needs=(parts,))

    clearances = Judged(clearance_checks, reads=("fold.clearance_mm",), needs=(clearance,))
    demands = Judged(
        own_checks,
        reads=(*RAMP, "carrier", "sites", "use", "fold_stages"),
        needs=(assembly, sites, drop_mm, path, stowed, joint),
    )
    strength = Judged(
        strength_checks,
        reads=("outer_leaf", "toe", "prop", "made_of.rails", "sites", "use", "joining"),
        needs=(carried, verdicts, fixed),
    )
    tiring = Judged(
        crossing_checks,
        reads=(
            "use.crossings", "made_of", "materials",
            *(f"{leaf}.{name}" for leaf in LEAVES for name in CROSSED),
        ),
        needs=(carried, strengths),
    )  # fmt: skip
    steadiness = Judged(steadiness_checks, reads=("carrier_body", "carrier", *CLIMBED), needs=(standing,))
    twisting = Judged(unladen_checks, reads=("carrier_body", "carrier"), needs=(unladen,))
    stays_down = Judged(staying_checks, reads=(*FOLDS, "hold_down"), needs=(staying, drop_mm))

    slopes = Ruled(SLOPES, reads=("sites",), needs=(rule_sets, sites, kerbs, drop_mm))
    surface = Ruled(SURFACE, reads=(*LEAVES, "toe", "carrier.opening_width_mm"), needs=(rule_sets, assembly))
    steps = Ruled(
        STEPS,
        reads=(*PLACED, "bridge", "carrier.deck_length_mm"),
        needs=(rule_sets, assembly, sites, drop_mm),
    )
    edges = Ruled(EDGES, reads=LEAVES, needs=(rule_sets,))
    holding = Ruled(HOLDING, reads=("use.rated_load_kg",), needs=(rule_sets, joint))
    handling = Ruled(HANDLING, needs=(rule_sets, path, hand))
    loaded = Ruled(LOADED, needs=(rule_sets, carried, strengths))
    unknown = Ruled(UNKNOWN, needs=(rule_sets,))

    by_itself = (clearances, demands, strength, tiring, steadiness, twisting, stays_down)
    by_rules = (slopes, surface, steps, edges, holding, handling, loaded, unknown)
    checks = Stage(_checks, needs=(rule_sets, *by_itself, *by_rules))
    """Worst first."""
