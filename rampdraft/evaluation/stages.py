"""What follows from a design: every stage, what it reads and needs, and the function that makes it."""

from pathlib import Path
from typing import Any

from rampdraft.checks.demands.aside import aside_checks
from rampdraft.checks.demands.bolts import bolt_checks
from rampdraft.checks.demands.bridge_room import bridge_room_checks
from rampdraft.checks.demands.bumps import bump_checks
from rampdraft.checks.demands.chosen import rule_set_checks
from rampdraft.checks.demands.crossings import crossing_checks
from rampdraft.checks.demands.footing import crowd_checks, grip_checks, toe_checks
from rampdraft.checks.demands.handling import fall_checks, hands_checks
from rampdraft.checks.demands.holding import holding_checks
from rampdraft.checks.demands.lifted import lifted_checks
from rampdraft.checks.demands.lying import lying_checks
from rampdraft.checks.demands.own import clearance_checks, own_checks
from rampdraft.checks.demands.props import prop_checks
from rampdraft.checks.demands.road import stowed_checks, thrust_checks
from rampdraft.checks.demands.rolling import rolling_checks, width_checks
from rampdraft.checks.demands.staying import staying_checks
from rampdraft.checks.demands.steadiness import steadiness_checks
from rampdraft.checks.demands.strength import strength_checks
from rampdraft.checks.demands.unladen import unladen_checks
from rampdraft.checks.notes import notes
from rampdraft.checks.result import Check, worst_first
from rampdraft.checks.rules.judging import in_order
from rampdraft.checks.rules.rule import RuleSet, all_loads
from rampdraft.checks.rules.sets import rule_sets_for
from rampdraft.evaluation.graph import Graph
from rampdraft.evaluation.judged import LIMITS, Judged, Ruled
from rampdraft.evaluation.kerbs import on_kerbs
from rampdraft.evaluation.makers import (
    across,
    all_checks_of,
    bar_line_mm,
    bought_of,
    brackets_of,
    bridge_bears_mm,
    clearance_map_of,
    clearance_of,
    costs_of,
    deployed_of,
    first_site,
    fold_of,
    fold_path_of,
    in_every_state,
    key_dimensions_of,
    least_plan_for,
    leaves_kg_of,
    loaded_of,
    meeting_of,
    parts_of,
    plan_for,
    remarks_of,
    starting_of,
    steps_of,
    verdicts_of,
    welds_of,
)
from rampdraft.evaluation.reads import (
    BEHIND,
    BRACKETS,
    BRIDGE,
    BUILT,
    CLIMBED,
    CROSSED,
    EDGES,
    FIXED,
    FOLDED,
    FOLDS,
    FRAME,
    HANDLING,
    HOLDING,
    LATCHED,
    LEAVES,
    LOADED,
    PLACED,
    RAMP,
    SLOPES,
    SPANS,
    STEPS,
    SUPPORTED,
    SURFACE,
    UNKNOWN,
    USERS,
    WELDED,
)
from rampdraft.evaluation.stage import Stage
from rampdraft.geometry.attached import attached
from rampdraft.geometry.buildable.problems import require_buildable
from rampdraft.geometry.members.assembly import assemble
from rampdraft.geometry.spacing.settled import settled
from rampdraft.mechanics.carrier.at_rest import carrier_at_rest
from rampdraft.mechanics.carrier.standing import climbed, edge_drops_mm, loaded_drop_mm, unladen
from rampdraft.mechanics.folding.bridge_room import bridge_room
from rampdraft.mechanics.folding.envelope import envelope as fold_envelope
from rampdraft.mechanics.folding.folding import stowed as stowed_size
from rampdraft.mechanics.handling.fall import falls
from rampdraft.mechanics.handling.hand_force import hand_force
from rampdraft.mechanics.handling.hands import hands
from rampdraft.mechanics.handling.lifted import lifted
from rampdraft.mechanics.handling.staying import staying
from rampdraft.mechanics.handling.stowed import leaning_nmm, shaken
from rampdraft.mechanics.handling.thrust import steepest_ground, thrust
from rampdraft.mechanics.joint import joint_verdict
from rampdraft.mechanics.loading.carrying import carry
from rampdraft.mechanics.loading.grillage import grillage
from rampdraft.mechanics.loading.slats import sharing_slats
from rampdraft.mechanics.results import (
    SitePose,
)
from rampdraft.mechanics.rolling.everywhere import roll_everywhere
from rampdraft.mechanics.standing.props import props_set
from rampdraft.mechanics.standing.standing import (
    grades,
    ramp_grades,
    stand_empty,
    straightened,
)
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import changed
from rampdraft.shop.joints import joints_of
from rampdraft.strength.members import fixed_on, members_of
from rampdraft.strength.patches import wheels_of


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
        design = settled(design)
        require_buildable(design, beside=self.design)
        same = design.use.rule_sets == self.design.use.rule_sets
        rule_sets = self.rule_sets if same else rule_sets_for(design, self.folder)
        return Evaluation(design, rule_sets, self.folder, before=self)

    def changed(self, path: str, value: Any) -> "Evaluation":
        """Return the evaluation of the design with the value, or the values, at a path replaced."""
        return self.following(changed(self.design, path, value))

    def site_pose(self, number: int, state: str) -> SitePose:
        """Return the pose at a site, counted from 1, in a state of the deck."""
        return next(pose for pose in self.sites if pose.site_number == number and pose.state == state)

    rule_sets = Stage[tuple[RuleSet, ...]](given, reads=("use.rule_sets",))
    """Those that the design names, in its order, each once: read from their files, not made."""

    assembly = Stage(assemble, reads=(*BUILT, *LATCHED))
    attached = Stage(
        attached, reads=(*LEAVES, "deck_hinge", "joint", "joining.weld_throat_mm"), needs=(assembly,)
    )
    """What holds the members of the leaves, and which are in one another's place."""
    bar_line_mm = Stage(bar_line_mm, needs=(attached,), settles=True)
    """Where a stop bar touches the rail that it is welded to."""
    at_rest = Stage(carrier_at_rest, reads=SUPPORTED, needs=(assembly,), settles=True)
    """The empty carrier on its supports; None where none are described."""
    edge_drops_mm = Stage(edge_drops_mm, reads=USERS, needs=(at_rest,), settles=True)
    """How far the deck sinks by its supports, loaded and with somebody starting up: one balance for both."""
    edge_drop_mm = Stage(loaded_of, needs=(edge_drops_mm,), settles=True)
    """How far the loaded deck sinks by what follows from its supports; None where nothing does."""
    drop_mm = Stage(loaded_drop_mm, reads=("carrier", "deck_hinge"), needs=(edge_drop_mm,), settles=True)
    """How far the loaded deck sinks: by what follows from its supports, else as measured."""
    starting_drop_mm = Stage(starting_of, needs=(edge_drops_mm,), settles=True)
    """How far the deck sinks by its cargo while somebody starts up; None where none is known of."""
    unladen = Stage(unladen, reads=("carrier_body.twist_mm", "supports"), needs=(at_rest, edge_drop_mm))
    """The carrier on its supports while nobody climbs; None where none are described."""
    first_site = Stage(first_site, reads=("sites",), settles=True)
    """On whose ground the ramp folds."""
    straight = Stage(straightened, reads=(*RAMP, *BRIDGE, "carrier.deck_height_mm"), needs=(assembly,))
    """The ramp as it is let down, the joint at its stop."""
    empty = Stage(stand_empty, reads=PLACED, needs=(straight,))
    """The ramp at each site with the deck empty."""
    deployed = Stage(deployed_of, needs=(empty,), settles=True)
    """The pose at the first site: where the fold begins."""
    sites = Stage(in_every_state, reads=PLACED, needs=(straight, empty, starting_drop_mm, drop_mm))
    """Each site with the deck empty, with somebody starting up where its cargo moves it, then loaded."""
    props_set = Stage(
        props_set,
        reads=(*PLACED, "prop"),
        needs=(straight, sites, drop_mm),
        settles=True,
    )
    """How the props are drilled, and set at each site."""
    meeting = Stage(
        meeting_of,
        reads=(*FOLDS, *BEHIND, *BRIDGE, *FOLDED, "joining"),
        needs=(assembly, sites, props_set),
    )
    """Members of both leaves that meet where a prop holds the joint up."""
    ramp_grades = Stage(ramp_grades, needs=(sites,), settles=True)
    """The slopes that users come up."""
    standing = Stage(climbed, reads=CLIMBED, needs=(at_rest, unladen, ramp_grades))
    """The carrier on its supports as users come up; None where none are described."""
    kerbs = Stage(on_kerbs, reads=PLACED, needs=(straight, starting_drop_mm, drop_mm, rule_sets))
    """The ramp on each level reference kerb of the rules, by its height."""

    path = Stage(fold_path_of, reads=(*FOLDS, "toe", "fold", "fold_stages"), needs=(first_site, deployed))
    clearance = Stage(
        clearance_of,
        reads=(*FOLDS, *BEHIND, *BRIDGE, *FOLDED, "joining", "fold.clearance_mm"),
        needs=(assembly, path, first_site),
    )
    bridge_room = Stage(
        bridge_room,
        reads=(*FOLDS, *BRIDGE, "bridge.thickness_mm", "bridge.turned_back", "obstacles"),
        needs=(assembly, path),
    )
    """Where the bridge plate comes nearest to an obstacle as it turns; None without either."""
    hand = Stage(
        hand_force,
        reads=(*FOLDS, "handles", "assist", "fold", "stop", "prop.fitted"),
        needs=(assembly, path),
    )
    hands = Stage(
        hands,
        reads=(*FOLDS, "handles", "hands", "assist", "fold", "stop", "prop.fitted"),
        needs=(assembly, path),
    )
    """What each stage of the fold asks of all hands at once."""
    envelope = Stage(fold_envelope, reads=FOLDS, needs=(assembly, path))
    stowed = Stage(stowed_size, reads=(*FOLDS, "fold"), needs=(assembly,))
    falls = Stage(falls, reads=FOLDS, needs=(assembly, path, hand))
    """What falls when the ramp is let go, a stage each."""
    shaken = Stage(shaken, reads=(*FOLDS, "fold", "assist", "road"), needs=(assembly, stowed))
    """What road and wind ask of the stowed ramp, and of its outer leaf."""
    leaning_nmm = Stage(leaning_nmm, reads=(*FOLDS, "assist"), needs=(assembly, stowed), settles=True)
    """Moment of weights and springs about the deck hinge, stowed, positive away from the deck."""
    joint = Stage(joint_verdict, reads=RAMP, settles=True)
    fold = Stage(fold_of, needs=(path, clearance, hand, envelope, stowed, joint))
    """The fold, whole."""
    clearance_map = Stage(
        clearance_map_of,
        reads=(*FOLDS, *BEHIND, *BRIDGE, *FOLDED, "joining", "fold"),
        needs=(assembly, first_site, deployed),
        aside=True,
    )

    rolling = Stage(
        roll_everywhere,
        reads=(
            *PLACED,
            "carrier.deck_length_mm",
            "carrier.end_depth_mm",
            "carrier.opening_width_mm",
            "carrier.head_room_mm",
            "use.users",
            "use.wet_grip",
        ),
        needs=(assembly, sites, straight, at_rest, props_set),
        aside=True,
    )
    """Every user over every site, deck empty, sinking and loaded, facing both ways."""

    grades = Stage(grades, needs=(sites,), settles=True)
    """The slopes that loads are looked at on."""
    loads = Stage(all_loads, reads=(*LIMITS, "use"), needs=(rule_sets, grades))
    """Every load that the ramp is judged under."""
    leaves_kg = Stage(leaves_kg_of, needs=(assembly,), settles=True)
    frame = Stage(grillage, reads=FRAME)
    """The ramp as a grillage."""
    across = Stage(across, reads=("sites",), settles=True)
    carried = Stage(
        carry,
        reads=(*FRAME, "prop.slack_mm", "inner_leaf.width_mm", "outer_leaf.width_mm"),
        needs=(frame, leaves_kg, loads, across),
    )
    """What the members carry under every load that the ramp is judged under."""

    sharing = Stage(
        sharing_slats,
        reads=(
            "made_of.slats", "materials",
            *(f"{leaf}.{name}" for leaf in LEAVES for name in (
                "width_mm", "rail_lanes_mm", "slat_width_mm", "slat_thickness_mm", "slat_pitch_mm",
            )),
        ),
        needs=(frame,),
    )  # fmt: skip
    """The slats as beams over rails that sink."""
    wheels = Stage(
        wheels_of,
        reads=tuple(
            f"{leaf}.{name}" for leaf in LEAVES for name in ("width_mm", "slat_pitch_mm", "rail_lanes_mm")
        ),
        needs=(carried, sharing),
    )
    """What loads stand on, and what they bring to the slats."""
    bridge_bears_mm = Stage(bridge_bears_mm, needs=(sites,), settles=True)
    """How near and how far from the deck edge the bridge plate bears on the leaf at any site."""
    strengths = Stage(
        members_of,
        reads=(
            *BUILT,
            "assist",
            "joining",
            "use.service_class",
            "carrier.deck_thickness_mm",
            "carrier.end_depth_mm",
            "carrier.end_setback_mm",
        ),
        needs=(carried, wheels, bridge_bears_mm, bar_line_mm),
    )
    """The members as they are judged under whichever load."""
    verdicts = Stage(verdicts_of, needs=(strengths,))
    """What they use of their strength under the users and the rated load."""

    fixed_on = Stage(
        fixed_on,
        reads=(*LEAVES, "made_of", "materials", "joining", "workshop", "use.service_class"),
        needs=(carried, wheels),
    )
    """Upstands and slats as they are judged under wheels."""
    fixed = Stage(verdicts_of, needs=(fixed_on,))

    staying = Stage(staying, reads=(*PLACED, "fold", "assist", "hold_down"), needs=(assembly, sites))
    """How the empty ramp stays down at each site that it reaches."""
    lifted = Stage(lifted, reads=(*FOLDS, "sites", "assist", "hold_down"), needs=(assembly, staying))
    """What it does there when its toe is lifted and let go, and when it is thrown up."""

    thrust = Stage(
        thrust,
        reads=(*USERS, *SPANS, "road.held_n", "supports"),
        needs=(assembly, sites, drop_mm),
        settles=True,
    )
    """What pushes the carrier along the ground; None where it cannot move."""
    toe_ground = Stage(steepest_ground, reads=("sites",), needs=(sites,))
    """Where the ground under the toe slopes most."""

    brackets = Stage(brackets_of, reads=BRACKETS)
    """What holds the carrier's knuckles: made with the ramp, and no part of what folds."""
    parts = Stage(
        parts_of,
        reads=("prop", "made_of.rails", "inner_leaf.rail_lanes_mm"),
        needs=(assembly, brackets, props_set),
    )
    joints = Stage(joints_of, reads=WELDED, needs=(assembly, brackets, attached))
    """What is welded to what, and what would be and cannot."""
    welds = Stage(welds_of, needs=(joints, parts))
    """The weld list."""
    remarks = Stage(
        remarks_of, reads=(*FIXED, *BEHIND, "deck_hinge", "joint"), needs=(assembly, brackets, joints)
    )
    """What the lists cannot hold."""
    bought = Stage(bought_of, reads=(*FIXED, *BEHIND, "deck_hinge"), needs=(assembly, brackets))
    """What is bought by the piece or the metre besides the parts."""
    assembly_steps = Stage(steps_of, needs=(assembly, brackets, parts, welds, bought))
    """The order of assembly."""
    key_dimensions = Stage(
        key_dimensions_of,
        reads=("inner_leaf.length_mm", "joint", "deck_hinge", "stop", "prop"),
        needs=(parts,),
    )
    """The dimensions that matter more than the general tolerances hold them to."""
    plan = Stage(plan_for, reads=("workshop", "stock"), needs=(parts,))
    """The quick cutting plan, of every edit."""
    least_plan = Stage(least_plan_for, reads=("workshop", "stock"), needs=(parts,), aside=True)
    """The cutting plan for the saw, proven least where that can be."""
    costs = Stage(costs_of, reads=("stock", "prices"), needs=(least_plan, parts, bought), aside=True)
    """What is to be bought, with its cost."""

    notes = Stage(
        notes,
        reads=(
            "made_of", "materials", "prop.fitted", "prop.section", "stop.kind", "hold_down", "road",
            *(f"{leaf}.{name}_section" for leaf in LEAVES for name in ("rail", "cross")),
        ),
    )  # fmt: skip
    """What follows from what it is made of, in sentences."""

    bridge_turns = Judged(bridge_room_checks, reads=("fold.clearance_mm",), needs=(bridge_room,))
    clearances = Judged(clearance_checks, reads=("fold.clearance_mm",), needs=(clearance,))
    demands = Judged(
        own_checks,
        reads=(*RAMP, "carrier", "sites", "use", "fold_stages"),
        needs=(assembly, sites, drop_mm, path, stowed, joint),
    )
    propped = Judged(prop_checks, reads=("prop", "sites"), needs=(sites, drop_mm, props_set, meeting))
    attaching = Judged(
        holding_checks,
        reads=(
            *LEAVES,
            "joining.weld_throat_mm",
            "workshop.slat_screw_mm",
            "made_of.rails",
            "materials",
            "hold_down.latch",
            "hold_down.pull_n",
            "hold_down.arm_mm",
            "joint.height_mm",
        ),
        needs=(attached,),
    )
    lying = Judged(lying_checks, reads=("sites",), needs=(sites, drop_mm))
    strength = Judged(
        strength_checks,
        reads=("outer_leaf", "toe", "prop", "made_of.rails", "sites", "use", "joining"),
        needs=(carried, verdicts, fixed),
    )
    bolted = Judged(
        bolt_checks,
        reads=(
            "joining",
            "deck_hinge",
            "carrier.deck_thickness_mm",
            "carrier.end_setback_mm",
            "inner_leaf.rail_lanes_mm",
        ),
    )
    tiring = Judged(
        crossing_checks,
        reads=(
            "use.crossings", "made_of", "materials", "workshop.slat_screw_mm",
            *(f"{leaf}.{name}" for leaf in LEAVES for name in CROSSED),
        ),
        needs=(carried, strengths, fixed_on),
    )  # fmt: skip
    steadiness = Judged(steadiness_checks, reads=("carrier_body", "carrier", *CLIMBED), needs=(standing,))
    twisting = Judged(unladen_checks, reads=("carrier_body", "carrier"), needs=(unladen,))
    stays_down = Judged(staying_checks, reads=(*FOLDS, "hold_down"), needs=(staying, drop_mm))
    falls_back = Judged(lifted_checks, reads=("hold_down",), needs=(lifted, drop_mm))

    handled = Judged(hands_checks, reads=("hands",), needs=(hands,))
    let_go = Judged(fall_checks, reads=("hands",), needs=(falls,))
    on_road = Judged(stowed_checks, reads=("road", "inner_leaf.length_mm"), needs=(shaken, leaning_nmm))
    held = Judged(thrust_checks, reads=("road.held_n",), needs=(thrust,))
    grips = Judged(grip_checks, reads=("use.wet_grip", "sites"), needs=(sites, drop_mm))
    toe_stands = Judged(toe_checks, needs=(toe_ground, drop_mm))
    crowded = Judged(crowd_checks, reads=(*LEAVES, "use.rated_load_kg"))
    governed = Judged(rule_set_checks, reads=("use.rule_sets",))
    aside = Judged(aside_checks, reads=("sites", "use"), needs=(sites, drop_mm, standing))
    bumpy = Judged(
        bump_checks,
        reads=(*PLACED, "bridge", "carrier.deck_length_mm", "use.users"),
        needs=(assembly, sites, drop_mm),
    )
    wide = Judged(width_checks, reads=(*LEAVES, "use.users"))
    rolled = Judged(
        rolling_checks,
        reads=("sites", "use.users", "use.wet_grip", "hands.people"),
        needs=(rolling,),
        aside=True,
    )

    slopes = Ruled(SLOPES, reads=("sites",), needs=(rule_sets, sites, kerbs, drop_mm, props_set))
    surface = Ruled(SURFACE, reads=(*LEAVES, "toe", "carrier.opening_width_mm"), needs=(rule_sets, assembly))
    steps = Ruled(
        STEPS,
        reads=(*PLACED, "bridge", "carrier.deck_length_mm"),
        needs=(rule_sets, assembly, sites, drop_mm),
    )
    edges = Ruled(EDGES, reads=LEAVES, needs=(rule_sets,))
    holding = Ruled(HOLDING, reads=("use.rated_load_kg",), needs=(rule_sets, joint))
    handling = Ruled(HANDLING, needs=(rule_sets, path, hand, hands))
    loaded = Ruled(LOADED, needs=(rule_sets, carried, strengths))
    unknown = Ruled(UNKNOWN, needs=(rule_sets,))

    by_itself = (
        clearances, bridge_turns, demands, propped, attaching, lying, strength, bolted, tiring, steadiness,
        twisting, stays_down, falls_back, handled, let_go, on_road, held, grips, toe_stands, crowded,
        governed, aside, bumpy, wide,
    )  # fmt: skip
    by_rules = (slopes, surface, steps, edges, holding, handling, loaded, unknown)
    checks = Stage(_checks, needs=(rule_sets, *by_itself, *by_rules))
    """What is judged at each edit, worst first: all but rolling."""
    all_checks = Stage(all_checks_of, needs=(checks, rolled), aside=True)
    """What a verdict is given on: with rolling, worst first."""
