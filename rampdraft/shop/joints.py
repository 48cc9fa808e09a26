"""Which members are welded to each other, and how: the joints that the weld list is made of.

A joint whose members do not meet is none: the checks tell of it.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Literal

from rampdraft.geometry.attached import WELD_GAP_MM, Attached
from rampdraft.geometry.lanes import TOUCH_MM
from rampdraft.geometry.members.brackets import stub_top_mm
from rampdraft.geometry.members.hinges import KnuckleWeld, knuckle_weld
from rampdraft.geometry.members.leaves import upstand_screw
from rampdraft.geometry.members.member import LATCHES, Assembly, Body, Member, Role
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design, Leaf
from rampdraft.rounding import whole_steps
from rampdraft.strength.joining import unweldable
from rampdraft.strength.plate_hinges import GAP_MM
from rampdraft.units import MM

WeldKind = Literal[
    "cross member", "taper plate", "prop foot", "bracket stub", "deck knuckle", "joint knuckle",
    "carrier knuckle", "stop bar", "latch", "slat", "edge upstand", "plate hinge",
]  # fmt: skip

_BOTH: tuple[Body, ...] = ("inner", "outer")


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """A weld between two members."""

    kind: WeldKind
    on: Member
    """What is welded on."""
    to: Member
    """What carries it."""
    throat_mm: MM
    runs_mm: tuple[MM, ...]
    around: bool = False
    judged: str = ""
    """Key of the family in the check of its strength."""

    @property
    def materials(self) -> tuple[str, str]:
        """Return the names of what is welded together."""
        return self.on.piece.material, self.to.piece.material


def joints_of(
    design: Design, assembly: Assembly, brackets: tuple[Member, ...], held: Attached
) -> tuple[tuple[Joint, ...], tuple[Joint, ...]]:
    """Return every weld of ramp and brackets, and the joints whose materials no weld joins."""
    found: list[Joint] = []
    for body, leaf in zip(_BOTH, (design.inner_leaf, design.outer_leaf), strict=True):
        of = _by_role(assembly.of(body))
        found += _crosses(design, leaf, body, of)
        found += _knuckles(design, leaf, body, of)
        found += _stops(design, of, held)
        found += _latches(design, of)
        found += _tapers(design, of)
        found += _slats(design, leaf, body, of)
        found += _upstands(design, leaf, body, of)
    carrier = _by_role((*assembly.of("carrier"), *brackets))
    found += _brackets(design, carrier)
    found += _plate_hinges(design, carrier, _by_role(assembly.of("outer")))
    found += _feet(design, _by_role(assembly.of("loose")))
    pairs = {joint.materials for joint in found}
    refused = {pair for pair in pairs if unweldable(*(material_named(design, name) for name in pair))}
    return (
        tuple(joint for joint in found if joint.materials not in refused),
        tuple(joint for joint in found if joint.materials in refused),
    )


_ByRole = dict[Role, list[Member]]


def _by_role(members: Iterable[Member]) -> _ByRole:
    found: _ByRole = {}
    for member in members:
        found.setdefault(member.role, []).append(member)
    return found


def _crosses(design: Design, leaf: Leaf, body: Body, of: _ByRole) -> Iterator[Joint]:
    """Yield the welds of the cross members: around the ends of those between rails, which strength asks for,
    along both sides of flat ones; of others along the edges where they cross.
    """
    throat, section = design.joining.weld_throat_mm, leaf.cross_section
    wide, deep = section.width_mm, section.depth_mm
    between, around = leaf.cross_fitting == "between", section.kind in ("box", "timber")
    if between:
        runs = (wide, deep, wide, deep) if around else (deep, deep)
    elif leaf.cross_fitting == "half_lap":
        runs = (wide, wide, *([leaf.half_lap_mm] * 4 if leaf.half_lap_mm else ()))
    else:
        runs = (wide, wide, leaf.rail_section.width_mm, leaf.rail_section.width_mm)
    for cross in of.get("cross member", ()):
        for rail in of["rail"]:
            beside = max(cross.y0_mm - rail.y1_mm, rail.y0_mm - cross.y1_mm)
            if (abs(beside) <= TOUCH_MM) if between else beside < -TOUCH_MM:
                yield Joint(
                    kind="cross member",
                    on=cross,
                    to=rail,
                    throat_mm=throat,
                    runs_mm=runs,
                    around=around if between else leaf.cross_fitting == "under",
                    judged=f"{body}-sharing" if between else "",
                )


def _knuckles(design: Design, leaf: Leaf, body: Body, of: _ByRole) -> Iterator[Joint]:
    shift = max(abs(design.inner_leaf.knuckle_shift_mm), abs(design.outer_leaf.knuckle_shift_mm))
    welds = {
        "deck": knuckle_weld(design.deck_hinge, leaf, 0.0) if body == "inner" else None,
        "joint": knuckle_weld(design.joint, leaf, shift),
    }
    kinds: dict[str, WeldKind] = {"deck": "deck knuckle", "joint": "joint knuckle"}
    for knuckle in of.get("knuckle", ()):
        line = knuckle.tag.hinge
        weld, rail = welds[line], _nearest(knuckle, of["rail"])
        if weld is not None:
            yield _round_knuckle(design, kinds[line], knuckle, rail, weld, f"{line}-knuckles")


def _round_knuckle(
    design: Design, kind: WeldKind, knuckle: Member, to: Member, weld: KnuckleWeld, judged: str
) -> Joint:
    arcs = (weld.arc_mm, weld.arc_mm) if weld.arc_mm > 0 else ()
    return Joint(
        kind=kind,
        on=knuckle,
        to=to,
        throat_mm=design.joining.weld_throat_mm,
        runs_mm=(*arcs, *([weld.width_mm] * len(weld.lines_mm))),
        judged=judged,
    )


def _nearest(member: Member, others: Iterable[Member]) -> Member:
    middle = (member.y0_mm + member.y1_mm) / 2
    return min(others, key=lambda one: (abs((one.y0_mm + one.y1_mm) / 2 - middle), one.y0_mm))


def _stops(design: Design, of: _ByRole, held: Attached) -> Iterator[Joint]:
    """Yield the two runs of each stop bar on every rail that it touches, as long as that which is judged."""
    line = held.bar_line_mm
    for bar in of.get("stop bar", ()) if line is not None else ():
        for rail in of["rail"]:
            if line is not None and _touch(bar, rail):
                length = line[1] - line[0]
                yield Joint(
                    kind="stop bar",
                    on=bar,
                    to=rail,
                    throat_mm=design.joining.weld_throat_mm,
                    runs_mm=(length, length),
                    judged="stop",
                )


def _touch(bar: Member, rail: Member) -> bool:
    """Return whether a bar lies beside a rail, or on it, with no more air than a weld bridges."""
    near = WELD_GAP_MM + TOUCH_MM
    if max(bar.y0_mm - rail.y1_mm, rail.y0_mm - bar.y1_mm) > near:
        return False
    (u0, w0, u1, w1), (v0, x0, v1, x1) = bar.silhouette.box, rail.silhouette.box
    return max(w0 - x1, x0 - w1) <= near and min(u1, v1) - max(u0, v0) > TOUCH_MM


def _latches(design: Design, of: _ByRole) -> Iterator[Joint]:
    for role in LATCHES:
        for plate in of.get(role, ()):
            rail = next((one for one in of["rail"] if _touch(plate, one)), None)
            if rail is not None:
                yield Joint(
                    kind="latch",
                    on=plate,
                    to=rail,
                    throat_mm=design.joining.weld_throat_mm,
                    runs_mm=(plate.piece.length_mm, plate.piece.length_mm),
                )


def _tapers(design: Design, of: _ByRole) -> Iterator[Joint]:
    for plate in of.get("taper plate", ()):
        throat = min(design.joining.weld_throat_mm, plate.piece.section.depth_mm)
        length = plate.piece.length_mm
        rail = _nearest(plate, of["rail"])
        yield Joint(kind="taper plate", on=plate, to=rail, throat_mm=throat, runs_mm=(length, length))


def _slats(design: Design, leaf: Leaf, body: Body, of: _ByRole) -> Iterator[Joint]:
    """Yield the two runs across each rail of slats that no screw holds."""
    if design.workshop.slat_screw_mm:
        return
    wide = leaf.rail_section.width_mm
    for slat in of.get("slat", ()):
        for rail in of["rail"]:
            if min(slat.silhouette.box[2], rail.silhouette.box[2]) > slat.silhouette.box[0]:
                yield Joint(
                    kind="slat",
                    on=slat,
                    to=rail,
                    throat_mm=design.joining.weld_throat_mm,
                    runs_mm=(wide, wide),
                    judged=f"{body}-fixings",
                )


def _upstands(design: Design, leaf: Leaf, body: Body, of: _ByRole) -> Iterator[Joint]:
    """Yield the two runs on the end of each slat, on its top and its underside, where no screw holds them."""
    if upstand_screw(design) is not None:
        return
    throat = min(design.joining.weld_throat_mm, leaf.slat_thickness_mm)
    slats = [(slat, slat.silhouette.box) for slat in of.get("slat", ())]
    for upstand in of.get("edge upstand", ()):
        u0, _, u1, _ = upstand.silhouette.box
        for slat, (s0, _, s1, _) in slats:
            along = min(u1, s1) - max(u0, s0)
            if along > TOUCH_MM:
                yield Joint(
                    kind="edge upstand",
                    on=upstand,
                    to=slat,
                    throat_mm=throat,
                    runs_mm=(along, along),
                    judged=f"{body}-upstands",
                )


def _brackets(design: Design, of: _ByRole) -> Iterator[Joint]:
    """Yield the stubs on their plates, two runs as high as the stub, and the knuckles on their stubs."""
    hinge, section = design.deck_hinge, design.joining.bracket_section
    level = replace(hinge, height_mm=-hinge.below_mm - stub_top_mm(design))
    weld = knuckle_weld(level, replace(design.inner_leaf, rail_section=section), 0.0)
    plates, stubs = of.get("bracket plate", []), of.get("bracket stub", [])
    for stub in stubs:
        yield Joint(
            kind="bracket stub",
            on=stub,
            to=_nearest(stub, plates),
            throat_mm=design.joining.weld_throat_mm,
            runs_mm=(section.depth_mm, section.depth_mm),
            judged="bracket",
        )
    for knuckle in of.get("knuckle", ()):
        if weld is not None and stubs:
            to = _nearest(knuckle, stubs)
            yield _round_knuckle(design, "carrier knuckle", knuckle, to, weld, "bracket")


def _feet(design: Design, of: _ByRole) -> Iterator[Joint]:
    legs = of.get("prop inner tube") or of.get("prop", [])
    for foot in of.get("prop foot", ()):
        leg = _nearest(foot, legs)
        section = leg.piece.section
        runs = (section.depth_mm, section.width_mm) * 2
        yield Joint(
            kind="prop foot",
            on=foot,
            to=leg,
            throat_mm=design.joining.weld_throat_mm,
            runs_mm=runs,
            around=True,
        )


def hinge_knuckles(across_mm: MM, knuckle_mm: MM) -> int:
    """Return how many knuckles a plate's hinge has, from side to side."""
    return max(2, whole_steps(across_mm + GAP_MM, knuckle_mm + GAP_MM, across_mm))


def _plate_hinges(design: Design, carrier: _ByRole, outer: _ByRole) -> Iterator[Joint]:
    """Yield the knuckles of the hinges that the bridge plate and the toe flap turn on, along both sides of
    each, every other one on the plate.
    """
    bridge, flap = design.bridge.hinge_knuckle_mm, design.toe.hinge_knuckle_mm
    pairs = (
        (carrier.get("bridge plate"), carrier.get("bridge strip"), bridge, "bridge-hinge"),
        (outer.get("toe flap"), outer.get("slat", [])[-1:], flap, "flap-hinge"),
    )
    for plates, others, knuckle, judged in pairs:
        if plates and others:
            count = hinge_knuckles(plates[0].piece.length_mm, knuckle)
            yield Joint(
                kind="plate hinge",
                on=plates[0],
                to=others[0],
                throat_mm=design.joining.weld_throat_mm,
                runs_mm=(knuckle,) * (2 * count),
                judged=judged,
            )
