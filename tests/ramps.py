"""Ramps for the tests that judge designs: an ordinary one, and ways to give it one figure exactly."""

from collections.abc import Mapping
from dataclasses import fields, replace
from functools import cache

from timber_ramp import timber_ramp

from rampdraft.checks.result import Check
from rampdraft.checks.rules.sets import RuleSet, builtin_rule_sets
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.geometry.bridge import BridgeLie, bridge_reach_mm
from rampdraft.geometry.linkage import Pose
from rampdraft.geometry.members.assembly import assemble
from rampdraft.geometry.members.member import Assembly
from rampdraft.mechanics.folding.folding import fold_result
from rampdraft.mechanics.results import FoldResult, LeafGradient, SitePose
from rampdraft.mechanics.standing.standing import stand_everywhere
from rampdraft.model.design import Design, Leaf, Site


@cache
def base_design() -> Design:
    """Return the starter with one site of each kind and a fixed deck, plain toe, so that nothing else gets in
    the way.
    """
    design = timber_ramp()
    return replace(
        design,
        carrier=replace(design.carrier, deck_drop_mm=0),
        toe=replace(design.toe, kind="plain"),
        sites=(
            Site(name="Yard", kind="ground", ground_mm=((0, 0), (6000, 0))),
            Site(name="Kerb", kind="kerb", ground_mm=((0, 100), (6000, 100))),
            Site(name="Platform", kind="platform", ground_mm=((0, 200), (6000, 200))),
        ),
    )


def stood(design: Design, assembly: Assembly) -> tuple[SitePose, ...]:
    return stand_everywhere(design, assembly, design.carrier.deck_drop_mm)


@cache
def base_assembly() -> Assembly:
    return assemble(base_design())


@cache
def base_poses() -> tuple[SitePose, ...]:
    return stood(base_design(), base_assembly())


@cache
def base_fold() -> FoldResult:
    return fold_result(base_design(), base_assembly(), base_poses()[0])


def standing_in(evaluation: Evaluation, **stages: object) -> Evaluation:
    """Return an evaluation in which these stages are what a test says, whatever follows from its design."""
    assert {stage.name for stage in evaluation.stages} >= set(stages)
    other = Evaluation(evaluation.design, evaluation.rule_sets, evaluation.folder, before=evaluation)
    other._made.update(stages)
    return other


def parts_of(fold: FoldResult) -> dict[str, object]:
    """Return the stages that a fold is made of, and itself."""
    return {"fold": fold, **{field.name: getattr(fold, field.name) for field in fields(fold)}}


def rule_set(key: str) -> RuleSet:
    return next(one for one in builtin_rule_sets() if one.key == key)


def checks(
    *rule_sets: RuleSet,
    design: Design | None = None,
    assembly: Assembly | None = None,
    sites: tuple[SitePose, ...] | None = None,
    fold: FoldResult | None = None,
    stages: Mapping[str, object] | None = None,
) -> dict[str, Check]:
    """Return all checks by id, of the ordinary ramp with what is given put in its place."""
    design, assembly = design or base_design(), assembly or base_assembly()
    stood, folds = sites or base_poses(), fold or base_fold()
    one = standing_in(
        Evaluation(design, tuple(rule_sets)),
        assembly=assembly,
        sites=stood,
        **parts_of(folds),
        **(stages or {}),
    )
    found = one.checks
    assert len({check.id for check in found}) == len(found), "ids are unique"
    return {check.id: check for check in found}


def slope(ratio: float, going_mm: float = 1000) -> LeafGradient:
    return LeafGradient(rise_mm=ratio * going_mm, going_mm=going_mm)


def sloping(pose: SitePose, ratio: float, going_mm: float = 2000) -> SitePose:
    """Return the pose with both leaves straight on at this gradient, over this going in all."""
    half = slope(ratio, going_mm / 2)
    whole = slope(ratio, going_mm)
    return replace(pose, inner=half, outer=half, whole=whole, flap=None, bridge=None, reaches=True)


def all_sloping(ratio: float, going_mm: float = 2000) -> tuple[SitePose, ...]:
    return tuple(sloping(pose, ratio, going_mm) for pose in base_poses())


def level(pose: SitePose) -> SitePose:
    return replace(sloping(pose, 0.0), pose=Pose(0.0, 0.0), drop_mm=0.0)


def level_with_plate(design: Design) -> tuple[SitePose, ...]:
    """Return the poses with both leaves and the bridge plate level."""
    length = bridge_reach_mm(design)
    lie = BridgeLie(angle_rad=0.0, length_mm=length, bears_mm=length)
    poses = (level(pose) for pose in base_poses())
    return tuple(replace(pose, bridge=slope(0.0, length), bridge_lie=lie) for pose in poses)


def with_leaves(design: Design, **values: float) -> Design:
    """Return the design with the same values in both leaves."""
    return replace(
        design, inner_leaf=_leaf(design.inner_leaf, values), outer_leaf=_leaf(design.outer_leaf, values)
    )


def _leaf(leaf: Leaf, values: dict[str, float]) -> Leaf:
    return replace(leaf, **values)  # pyright: ignore[reportArgumentType]
