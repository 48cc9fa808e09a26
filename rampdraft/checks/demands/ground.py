"""The pressure under toe and prop, where a site's ground is said to bear so much."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from rampdraft import figures
from rampdraft.checks.result import Check, Demand, Source, compose
from rampdraft.checks.subjects import Measured, Subjects
from rampdraft.mechanics.loading.loads import is_of_use
from rampdraft.prose import Lines, prose
from rampdraft.units import MM2, N

DEMANDED: Final = Source(
    rule_set="own", title="Demanded in the design", clause="", publication="as given under Use and Sites"
)


@dataclass(frozen=True, slots=True)
class _Press:
    """What presses on the ground: its key, title and member, the force, and the area in numbers and words."""

    key: str
    title: str
    member: str
    force_n: N
    area_mm2: MM2
    words: str

    @property
    def kpa(self) -> float:
        return 1000 * self.force_n / self.area_mm2

    def lines(self) -> Lines:
        force, area = figures.newton(self.force_n), figures.mm2(self.area_mm2)
        return (
            f"force with bumps and own weight = {force} on {self.words}",
            f"= {force} / {area} = {figures.figure(self.kpa, 'kPa', 0)}",
        )


def ground_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield the pressure under toe and prop at each site whose ground is said to bear so much."""
    if not subjects.carried.held:
        return
    pressing = tuple(_pressing(subjects))
    for number, site in enumerate(subjects.design.sites, start=1):
        bears = site.ground_bears_kpa
        for one in pressing if bears else ():
            finding = Measured(
                key=f"{one.key}-site-{number}",
                subject=site.name,
                part=one.key,
                value=one.kpa,
                working=prose(_Press.lines, one),
                member=one.member,
                site_number=number,
            )
            yield compose(
                Demand.own(
                    "ground",
                    one.title,
                    "at most",
                    "kPa",
                    bears,
                    f"{figures.figure(bears, 'kPa', 0)}, what the ground is said to bear",
                    DEMANDED,
                ),
                finding,
            )


def _pressing(subjects: Subjects) -> Iterator[_Press]:
    design, carried = subjects.design, subjects.carried
    of_use = [number for number, load in enumerate(carried.loads) if is_of_use(load)]
    toe_n = float(carried.toe_n[of_use].max()) + carried.self_weight_toe_n
    if design.toe.kind != "flap":
        rails = len(design.outer_leaf.rail_lanes_mm)
        toe_n = float(carried.toe_rails_n[of_use].max()) + carried.self_weight_toe_n / rails
    yield _Press("toe", "Ground under the toe", "outer rail 1", toe_n, *_toe_area_mm2(subjects))
    if design.prop.fitted:
        prop_n, side = (
            float(carried.joint.prop_n[of_use].max()) + carried.joint.self_weight_prop_n,
            design.prop.foot_mm,
        )
        square = f"{figures.mm(side)} square"
        yield _Press("prop", "Ground under a prop", "prop foot left", prop_n, side**2, square)


def _toe_area_mm2(subjects: Subjects) -> tuple[float, str]:
    """Return the area with which the toe stands on soft ground, and words for it.

    The pressure rises from nothing to its greatest along what lies on the ground, so half of it counts: a
    flap, the taper of the rails, or as much of plain rails as they are deep.
    """
    design = subjects.design
    toe, leaf = design.toe, design.outer_leaf
    if toe.kind == "flap":
        return (
            leaf.width_mm * toe.length_mm / 2,
            f"half of the flap, {figures.mm(leaf.width_mm)} x {figures.mm(toe.length_mm)}",
        )
    width = leaf.rail_section.width_mm
    length = toe.length_mm if toe.kind == "taper" else leaf.rail_section.depth_mm
    what = "the taper of one rail" if toe.kind == "taper" else "the end of one rail"
    return width * length / 2, f"half of {what}, {figures.mm(width)} x {figures.mm(length)}"
