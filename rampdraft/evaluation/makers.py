"""What stages are made by that only pick out, join or hand on what other stages found."""

from rampdraft.checks.result import Check, worst_first
from rampdraft.geometry.attached import Attached
from rampdraft.geometry.linkage import Pose
from rampdraft.geometry.members.brackets import bracket_members
from rampdraft.geometry.members.member import Assembly, Member
from rampdraft.geometry.members.props import drilled
from rampdraft.mechanics.folding.clearance import clashing_at, fold_clearance
from rampdraft.mechanics.folding.clearance_map import ClearanceMap, clearance_map
from rampdraft.mechanics.folding.folding import fold_path
from rampdraft.mechanics.results import (
    ClashingPair,
    Clearance,
    Envelope,
    FoldPath,
    FoldResult,
    HandForce,
    JointVerdict,
    SitePose,
    Stowed,
)
from rampdraft.mechanics.standing.props import PropsSet
from rampdraft.mechanics.standing.standing import (
    Straightened,
    stand_loaded,
    stand_starting,
)
from rampdraft.model.design import Design, Site
from rampdraft.rounding import greatest
from rampdraft.shop.bought import Bought, bought
from rampdraft.shop.costs import Costs, costs
from rampdraft.shop.cutting.plan import least_plan_of, quick_plan
from rampdraft.shop.cutting.results import CuttingPlan
from rampdraft.shop.joints import Joint
from rampdraft.shop.order import Step, assembly_order
from rampdraft.shop.parts import Part, part_list
from rampdraft.shop.remarks import Remark, remarks
from rampdraft.shop.tolerances import KeyDimension, key_dimensions
from rampdraft.shop.welds import Weld, weld_list
from rampdraft.strength.members import Members, Verdict, verdicts
from rampdraft.units import KG, MM


def first_site(design: Design) -> Site:
    """Return the site that the fold is shown at."""
    return design.sites[0]


def across(design: Design) -> float:
    """Return by how much the ground of a site slopes across at most, rise over width."""
    return max(abs(site.cross_slope_percent) for site in design.sites) / 100


def bridge_bears_mm(_: Design, sites: tuple[SitePose, ...]) -> tuple[MM, MM] | None:
    """Return how near and how far from the deck edge the bridge plate bears on the leaf at any site; None
    where it hangs at one, or there is none.
    """
    found = [pose.bridge_lie.bears_mm for pose in sites if pose.reaches and pose.bridge_lie is not None]
    return (min(found), max(found)) if found and min(found) > 0 else None


def bar_line_mm(_: Design, found: Attached) -> tuple[MM, MM] | None:
    """Return between which places a lifting bar may lie."""
    return found.bar_line_mm


def leaves_kg_of(_: Design, assembly: Assembly) -> tuple[KG, KG]:
    """Return the mass of each leaf."""
    return assembly.leaves_kg


def loaded_of(_: Design, drops_mm: tuple[MM | None, MM | None]) -> MM | None:
    """Return the drop of the deck edge with its load aboard."""
    return drops_mm[0]


def starting_of(_: Design, drops_mm: tuple[MM | None, MM | None]) -> MM | None:
    """Return the drop of the deck edge as somebody starts up."""
    return drops_mm[1]


def deployed_of(_: Design, empty: tuple[SitePose, ...]) -> Pose:
    """Return the pose at the first site, deck empty."""
    return empty[0].pose


def in_every_state(
    design: Design,
    straight: Straightened,
    empty: tuple[SitePose, ...],
    starting_mm: MM | None,
    drop_mm: MM,
) -> tuple[SitePose, ...]:
    """Return the poses of each site, in every state of the deck."""
    states = [empty, stand_loaded(design, straight, drop_mm)]
    if starting_mm:
        states.insert(1, stand_starting(design, straight, starting_mm))
    return tuple(pose for poses in zip(*states, strict=True) for pose in poses)


def meeting_of(
    design: Design, assembly: Assembly, sites: tuple[SitePose, ...], props: PropsSet
) -> tuple[ClashingPair, ...] | None:
    """Return which members of both leaves are in each other's place where props hold the joint up most
    as the deck sinks; None where none does.
    """
    raised = [props.borne(pose) for pose in sites if props.holds_up(pose)]
    if not raised:
        return None
    worst = greatest(raised, lambda one: -one.pose.fold_rad)
    body = {member.key: member.tag.body for member in assembly.members}
    pairs = clashing_at(design, assembly, worst.pose, design.sites[worst.site_number - 1])
    return tuple(
        pair for pair in pairs if {body.get(pair.member_a), body.get(pair.member_b)} == {"inner", "outer"}
    )


def fold_path_of(design: Design, site: Site, deployed: Pose) -> FoldPath:
    """Return the way from deployed to stowed."""
    return fold_path(design, site, deployed)


def clearance_of(design: Design, assembly: Assembly, path: FoldPath, site: Site) -> Clearance:
    """Return the certified clearance along it."""
    return fold_clearance(design, assembly, path, site)


def clearance_map_of(design: Design, assembly: Assembly, site: Site, deployed: Pose) -> ClearanceMap:
    """Return the clearance over all angles."""
    return clearance_map(design, assembly, site, deployed.inner_rad)


def fold_of(
    _: Design,
    path: FoldPath,
    clearance: Clearance,
    hand: HandForce,
    envelope: Envelope,
    stowed: Stowed,
    joint: JointVerdict,
) -> FoldResult:
    """Return the fold, whole."""
    return FoldResult(
        path=path, clearance=clearance, hand=hand, envelope=envelope, stowed=stowed, joint=joint
    )


def verdicts_of(_: Design, strengths: Members) -> tuple[Verdict, ...]:
    """Return what the members can take, by limit states and by factor."""
    return verdicts(strengths)


def brackets_of(design: Design) -> tuple[Member, ...]:
    """Return what holds the carrier's knuckles."""
    return tuple(bracket_members(design))


def parts_of(
    design: Design, assembly: Assembly, brackets: tuple[Member, ...], props: PropsSet
) -> tuple[Part, ...]:
    """Return the part list, its props drilled for the sites."""
    return part_list((*drilled(design, assembly.members, props.holes), *brackets))


def welds_of(
    _: Design, joints: tuple[tuple[Joint, ...], tuple[Joint, ...]], parts: tuple[Part, ...]
) -> tuple[Weld, ...]:
    """Return the weld list."""
    return weld_list(joints[0], parts)


def remarks_of(
    design: Design,
    assembly: Assembly,
    brackets: tuple[Member, ...],
    joints: tuple[tuple[Joint, ...], tuple[Joint, ...]],
) -> tuple[Remark, ...]:
    """Return what the lists cannot hold."""
    return remarks(design, assembly, brackets, joints[1])


def bought_of(design: Design, assembly: Assembly, brackets: tuple[Member, ...]) -> tuple[Bought, ...]:
    """Return what is bought besides the parts."""
    return bought(design, assembly, brackets)


def steps_of(
    _: Design,
    assembly: Assembly,
    brackets: tuple[Member, ...],
    parts: tuple[Part, ...],
    welds: tuple[Weld, ...],
    things: tuple[Bought, ...],
) -> tuple[Step, ...]:
    """Return the order of assembly."""
    return assembly_order((*assembly.members, *brackets), parts, welds, things)


def key_dimensions_of(design: Design, parts: tuple[Part, ...]) -> tuple[KeyDimension, ...]:
    """Return the dimensions that matter."""
    return key_dimensions(design, parts)


def costs_of(design: Design, plan: CuttingPlan, parts: tuple[Part, ...], things: tuple[Bought, ...]) -> Costs:
    """Return the purchase list with its cost."""
    return costs(design, plan, parts, things)


def plan_for(design: Design, parts: tuple[Part, ...]) -> CuttingPlan:
    """Return the quick cutting plan."""
    return quick_plan(parts, design)


def least_plan_for(design: Design, parts: tuple[Part, ...]) -> CuttingPlan:
    """Return the cutting plan for the saw."""
    return least_plan_of(parts, design)


def all_checks_of(_: Design, checks: tuple[Check, ...], rolled: tuple[Check, ...]) -> tuple[Check, ...]:
    """Return all checks, those of rolling with the others, worst first."""
    return worst_first((*checks, *rolled))
