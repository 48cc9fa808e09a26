"""The one door: design in, everything that can be said of it out."""

from dataclasses import dataclass
from pathlib import Path

from rampdraft.checks.registry import check_all
from rampdraft.checks.result import Check
from rampdraft.checks.rules.loads import all_loads
from rampdraft.checks.rules.sets import RuleSet, rule_sets_for
from rampdraft.geometry.buildable.problems import require_buildable
from rampdraft.geometry.members.assembly import assemble
from rampdraft.geometry.members.member import Assembly
from rampdraft.mechanics.carrier.results import CarrierStanding
from rampdraft.mechanics.carrier.standing import carrier_standing, loaded_drop_mm
from rampdraft.mechanics.folding.folding import fold_result
from rampdraft.mechanics.loading.carrying import carry
from rampdraft.mechanics.loading.results import Carried
from rampdraft.mechanics.results import FoldResult, SitePose
from rampdraft.mechanics.standing.standing import stand_everywhere
from rampdraft.model.design import Design
from rampdraft.shop.cutting import cutting_plan
from rampdraft.shop.parts import part_list
from rampdraft.shop.results import CuttingPlan, Part


@dataclass(frozen=True, slots=True, kw_only=True)
class Evaluation:
    """All that follows from a design, frozen and complete."""

    design: Design
    assembly: Assembly
    sites: tuple[SitePose, ...]
    """Each site with the deck empty, then loaded."""
    fold: FoldResult
    carried: Carried
    """What the members carry under every load that the ramp is judged under."""
    standing: CarrierStanding | None
    """The carrier on its supports; None where none are described."""
    rule_sets: tuple[RuleSet, ...]
    """Those that the design names, in its order, each once."""
    checks: tuple[Check, ...]
    """Worst first."""
    parts: tuple[Part, ...]
    plan: CuttingPlan

    def site_pose(self, number: int, state: str) -> SitePose:
        """Return the pose at a site, counted from 1, with the deck `empty` or `loaded`."""
        return next(pose for pose in self.sites if pose.site_number == number and pose.state == state)


def evaluate(design: Design, folder: Path | None = None) -> Evaluation:
    """Return everything that follows from a design; `folder` is where its own rule files are looked for.

    Raises DesignError when the values contradict each other, FileError when a rule set that it names is not
    to be had.
    """
    require_buildable(design)
    rule_sets = rule_sets_for(design, folder)
    assembly = assemble(design)
    standing = carrier_standing(design, assembly)
    sites = stand_everywhere(design, assembly, loaded_drop_mm(design, standing))
    fold = fold_result(design, assembly, sites[0])
    carried = carry(design, assembly, all_loads(design, rule_sets))
    parts = part_list(assembly)
    return Evaluation(
        design=design,
        assembly=assembly,
        sites=sites,
        fold=fold,
        carried=carried,
        standing=standing,
        rule_sets=rule_sets,
        checks=check_all(design, assembly, sites, fold, carried, standing, rule_sets),
        parts=parts,
        plan=cutting_plan(parts, design),
    )
