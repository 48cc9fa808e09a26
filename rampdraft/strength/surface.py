"""What a wheel stands on between the rails: slats, cross members, bridge plate and toe flap.

Each is a simple beam between two supports, or a cantilever where it stands out beyond the outer rail; that it
runs on over several rails is left out, which makes it no stronger than it is. Its own weight is left out,
being a hundredth of a wheel's.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final, Literal, TypeVar

from rampdraft.figures import mm, mpa, newton, newton_metre, newton_mm, percent
from rampdraft.geometry.lanes import bays_mm
from rampdraft.geometry.members.leaves import TWO_SCREWS_FROM_MM
from rampdraft.geometry.sections import properties
from rampdraft.mechanics.loading.loads import Footprint, Load, Rolling
from rampdraft.mechanics.loading.results import Carried
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design, Leaf, Material, ServiceClass
from rampdraft.model.section import Section
from rampdraft.prose import Lines, prose
from rampdraft.rounding import greatest
from rampdraft.strength.formula import BENT, PLATE, F, Formula, Symbol, Worked, factor, mm3
from rampdraft.strength.joining import Seam, seam, unweldable
from rampdraft.strength.metal import wall_class
from rampdraft.strength.timber import SHEAR, timber_shear_strength_mpa
from rampdraft.strength.utilisation import (
    Combination,
    Family,
    Outcome,
    Part,
    Unknown,
    bending_mpa,
    worst_last,
)
from rampdraft.units import MM, N

SLATS: Final = "Slats under a wheel"
CROSSES: Final = "Cross members under a wheel"
BRIDGE: Final = "Bridge plate under a wheel"
FLAP: Final = "Toe flap under a wheel"
BUCKLES: Final = Unknown(
    why="The walls are so thin that they buckle before they yield (class 4): take a thicker wall."
)

_CROSS: Final = {
    "timber": "EN 1995-1-1, 6.1.6",
    "aluminium": "EN 1999-1-1, 6.2.5",
    "steel": "EN 1993-1-1, 6.2.5",
}
END: Final = Formula(F / (2 * Symbol("h", mm)), newton_mm)
"""What a mm of weld at the end of a cross member bears, along both of its sides."""
T = TypeVar("T")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Patch:
    """A force over a patch of the surface."""

    force_n: N
    across_mm: MM
    along_mm: MM
    """Across and along the ramp."""
    track_mm: MM
    """To the other wheel of the axle; 0 for none."""
    load: int
    at_edge: bool
    """Whether it may stand at the very edge of the surface."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Bent:
    """A part bent by a patch, without factors."""

    patch: _Patch
    moment_nmm: float
    wide_mm: MM
    """So much of the part bears it; 1 for all of it."""
    place: str
    """Where it stands, `at the edge, {} out`, with room for `place_mm`."""
    place_mm: MM

    @property
    def badness(self) -> float:
        """Return the moment a mm of width."""
        return self.moment_nmm / self.wide_mm


def surface_parts(design: Design, carried: Carried) -> Iterator[tuple[Family, Part | Unknown]]:
    """Yield slats, cross members, bridge plate and toe flap."""
    wheels = tuple(_wheels(design, carried))
    leaves: tuple[tuple[Literal["inner", "outer"], Leaf], ...] = (
        ("inner", design.inner_leaf),
        ("outer", design.outer_leaf),
    )
    for body, leaf in leaves:
        subject = f"{body} leaf"
        on_slat = tuple(_on_slat(wheels, leaf.slat_pitch_mm))
        yield (
            Family(key=f"{body}-slats", title=SLATS, subject=subject, member=f"{body} slat 1", leaf=body),
            _slats(design, leaf, on_slat),
        )
        bays = len(bays_mm(leaf)) if leaf.cross_fitting == "between" else 1
        if leaf.cross_positions_mm and bays:
            bay = " bay 1" if bays > 1 else ""
            member = f"{body} cross member 1{bay}"
            yield (
                Family(key=f"{body}-cross", title=CROSSES, subject=subject, member=member, leaf=body),
                _crosses(design, leaf, on_slat),
            )
    bridge, toe = design.bridge, design.toe
    if bridge.fitted:
        span, width = bridge.length_mm - bridge.over_deck_mm, design.inner_leaf.width_mm
        yield (
            Family(key="bridge", title=BRIDGE, subject="", member="bridge plate"),
            _sheet(design, wheels, span, bridge.thickness_mm, width),
        )
    if toe.kind == "flap":
        yield (
            Family(key="flap", title=FLAP, subject="", member="outer toe flap"),
            _sheet(design, wheels, toe.length_mm, toe.thickness_mm, design.outer_leaf.width_mm),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Slats:
    """The slats of a leaf: a wheel in the middle of the widest bay, or at the edge beyond the outer rail."""

    material: Material
    service_class: ServiceClass
    thick_mm: MM
    welded: bool
    bent: tuple[_Bent, ...]
    """The worst of each load."""
    sheared: tuple[tuple[_Patch, MM], ...]
    """The greatest patch of each load, and how much of a slat's width shears under it; none but of timber."""

    def under(self, combination: Combination) -> Outcome:
        """Return the outcome in bending, and of timber in shear beside a rail.

        Raises StrengthUnknownError where the material holds no strength.
        """
        worst = _worst(self.bent, combination)
        flat = _flat(self.material, self.service_class, self.thick_mm, worst, combination, welded=self.welded)
        bent = flat[1]
        words = combination.words[worst.patch.load]
        of = f"strength of {self.material.name}{', welded' if self.welded else ''}"
        if not self.sheared:
            return Outcome(
                ratio=bent.value,
                worked=prose(_slat_lines, words, worst, combination.basis.gamma_q, flat, of),
                clause="elastic bending",
                load=worst.patch.load,
            )
        under = (pair for pair in self.sheared if pair[0].load in combination.loads)
        most, across = greatest(under, lambda pair: pair[0].force_n)
        stress = SHEAR.of(combination.design_value(0.0, most.force_n), across, self.thick_mm)
        used = stress.value / timber_shear_strength_mpa(self.material, combination.basis, self.service_class)
        shear = combination.words[most.load], stress, used
        return Outcome(
            ratio=max(bent.value, used),
            worked=prose(_slat_lines, words, worst, combination.basis.gamma_q, flat, of, shear),
            clause="EN 1995-1-1, 6.1.6, 6.1.7",
            load=worst.patch.load if bent.value >= used else most.load,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A plate that spans along the ramp, with a wheel half way at its side edge."""

    material: Material
    service_class: ServiceClass
    span_mm: MM
    thick_mm: MM
    bent: tuple[_Bent, ...]

    def under(self, combination: Combination) -> Outcome:
        """Return the outcome in bending; raises StrengthUnknownError where the material holds no strength."""
        worst = _worst(self.bent, combination)
        welded = self.material.kind == "aluminium"
        flat = _flat(self.material, self.service_class, self.thick_mm, worst, combination, welded=welded)
        words, gamma_q = combination.words[worst.patch.load], combination.basis.gamma_q
        return Outcome(
            ratio=flat[1].value,
            worked=prose(_sheet_lines, words, worst, gamma_q, flat, self.span_mm),
            clause="elastic bending",
            load=worst.patch.load,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class CrossMembers:
    """The cross members of a leaf between two rails: a whole wheel on one, as if the slat over it were off.

    A wheel on it is the rule of this program, common practice, so that no single broken slat lets a wheel
    through.
    """

    material: Material
    service_class: ServiceClass
    section: Section
    bent: tuple[_Bent, ...]
    ends: tuple[tuple[Material, Section], ...]
    """What the weld at an end joins; empty where there is none."""
    throat_mm: MM

    def under(self, combination: Combination) -> Outcome | Unknown:
        """Return the outcome in bending and of the weld at an end, or why it has none.

        Raises StrengthUnknownError where a material holds no strength.
        """
        basis, worst, section = combination.basis, _worst(self.bent, combination), self.section
        strength = bending_mpa(
            self.material,
            basis,
            self.service_class,
            depth_mm=section.depth_mm,
            welded=self.material.kind == "aluminium",
        )
        moment = combination.design_value(0.0, worst.moment_nmm)
        bent = BENT.of(moment, properties(section).elastic_modulus_mm3, strength)
        words, clause, end, used = combination.words[worst.patch.load], _CROSS[self.material.kind], None, 0.0
        if self.ends:
            if why := unweldable(*(material for material, _ in self.ends)):
                return Unknown(why=why)
            weld = seam(self.throat_mm, basis, *self.ends)
            pull = END.of(combination.design_value(0.0, worst.patch.force_n), section.depth_mm)
            used = pull.value / weld.n_mm
            end, clause = (pull, weld, used), f"{clause}; EN 1993-1-8, 4.5.3.3"
        return Outcome(
            ratio=max(bent.value, used),
            worked=prose(_cross_lines, words, worst, basis.gamma_q, section, bent, end),
            clause=clause,
            load=worst.patch.load,
        )


def _worst(bent: tuple[_Bent, ...], combination: Combination) -> _Bent:
    return greatest((one for one in bent if one.patch.load in combination.loads), lambda one: one.badness)


def _flat(
    material: Material,
    service_class: ServiceClass,
    thick_mm: MM,
    worst: _Bent,
    combination: Combination,
    *,
    welded: bool,
) -> tuple[Worked, Worked]:
    """Return the section modulus of what bears, and what bending uses of it."""
    modulus = PLATE.of(worst.wide_mm, thick_mm)
    strength = bending_mpa(material, combination.basis, service_class, depth_mm=thick_mm, welded=welded)
    return modulus, BENT.of(combination.design_value(0.0, worst.moment_nmm), modulus.value, strength)


def _slat_lines(
    words: str,
    worst: _Bent,
    gamma_q: float,
    flat: tuple[Worked, Worked],
    of: str,
    sheared: tuple[str, Worked, float] | None = None,
) -> Lines:
    patch, (modulus, bent) = worst.patch, flat
    lines = (
        f"{words}: {newton(patch.force_n)} on a slat over {mm(patch.across_mm)},"
        f" {worst.place.format(mm(worst.place_mm))}",
        f"M = {newton_metre(bent.of[0])} with {factor(gamma_q)} x {newton(patch.force_n)}",
        f"W = {modulus.numbers} = {modulus.result}; {of} = {mpa(bent.of[2])}",
        bent.short,
    )
    if sheared is None:
        return lines
    load, stress, used = sheared
    shear = f"shear beside a rail, {load}: {stress.symbols} = {percent(used)} of the strength"
    return worst_last((bent.value, lines), (used, (shear,)))


def _sheet_lines(words: str, worst: _Bent, gamma_q: float, flat: tuple[Worked, Worked], span_mm: MM) -> Lines:
    modulus, bent = flat
    force = newton(worst.patch.force_n)
    return (
        f"{words}: {force} half way along {mm(span_mm)}, at the side",
        f"M = {newton_metre(bent.of[0])} with {factor(gamma_q)} x {force}, over {mm(worst.wide_mm)}",
        f"W = {modulus.numbers} = {modulus.result}; strength = {mpa(bent.of[2])}",
        bent.short,
    )


def _cross_lines(
    words: str,
    worst: _Bent,
    gamma_q: float,
    section: Section,
    bent: Worked,
    end: tuple[Worked, Seam, float] | None,
) -> Lines:
    force = newton(worst.patch.force_n)
    lines = (
        f"{words}: {force} over {mm(worst.patch.across_mm)}, in the middle of {mm(worst.place_mm)}",
        f"M = {newton_metre(bent.of[0])} with {factor(gamma_q)} x {force}",
        f"W = {mm3(bent.of[1])}, {section.text}; strength = {mpa(bent.of[2])}",
        bent.short,
    )
    if end is None:
        return lines
    pull, weld, used = end
    joined = f"weld at its end: {pull.numbers} on {weld.words} = {percent(used)}"
    return worst_last((bent.value, lines), (used, (joined,)))


def _slats(design: Design, leaf: Leaf, patches: tuple[_Patch, ...]) -> Slats:
    """Return the slats of a leaf under these patches."""
    material, lanes = material_named(design, design.made_of.slats), leaf.rail_lanes_mm
    bay, hole = _widest_bay(leaf), design.workshop.slat_screw_mm
    out = max(0.0, leaf.width_mm / 2 - min(-lanes[0], lanes[-1]))
    screws = 2 if leaf.slat_width_mm >= TWO_SCREWS_FROM_MM else 1
    bent: list[_Bent] = []
    for patch in patches:
        if bay:
            wide = min(leaf.slat_width_mm, patch.along_mm + bay)
            moment = _bay_moment(patch, bay)
            bent.append(
                _Bent(patch=patch, moment_nmm=moment, wide_mm=wide, place="in the middle of {}", place_mm=bay)
            )
        if out and patch.at_edge:
            net = min(leaf.slat_width_mm, patch.along_mm + 2 * out) - screws * hole
            moment = _end_moment(patch.force_n, out, patch.across_mm)
            bent.append(
                _Bent(patch=patch, moment_nmm=moment, wide_mm=net, place="at the edge, {} out", place_mm=out)
            )
    greatest = _of_each_load(patches, lambda patch: patch.load, lambda patch: patch.force_n)
    sheared = ((patch, min(leaf.slat_width_mm, patch.along_mm + bay)) for patch in greatest)
    return Slats(
        material=material,
        service_class=design.use.service_class,
        thick_mm=leaf.slat_thickness_mm,
        welded=hole <= 0 and material.kind == "aluminium",
        bent=_worst_of_each_load(bent),
        sheared=tuple(sheared) if material.kind == "timber" else (),
    )


def _crosses(design: Design, leaf: Leaf, patches: tuple[_Patch, ...]) -> CrossMembers | Unknown:
    """Return the cross members of a leaf under these patches, or why they cannot be judged."""
    material, section = material_named(design, design.made_of.cross_members), leaf.cross_section
    if section.kind in ("box", "tube") and wall_class(section, material.yield_mpa, material.kind) == 4:
        return BUCKLES
    bay, rails = _widest_bay(leaf), material_named(design, design.made_of.rails)
    welded = leaf.cross_fitting == "between" and material.kind != "timber"
    bent = (
        _Bent(patch=patch, moment_nmm=_bay_moment(patch, bay), wide_mm=1.0, place="", place_mm=bay)
        for patch in patches
    )
    return CrossMembers(
        material=material,
        service_class=design.use.service_class,
        section=section,
        bent=_worst_of_each_load(bent),
        ends=((material, section), (rails, leaf.rail_section)) if welded else (),
        throat_mm=design.joining.weld_throat_mm,
    )


def _sheet(design: Design, wheels: tuple[_Patch, ...], span: MM, thick: MM, width: MM) -> Sheet:
    """Return a plate under these wheels.

    The load spreads at 45 degrees, common practice; at the edge to one side only.
    """
    bent = (
        _Bent(
            patch=patch,
            moment_nmm=_middle_moment(patch.force_n, span, patch.along_mm),
            wide_mm=min(width, patch.across_mm + span / 2),
            place="",
            place_mm=span,
        )
        for patch in wheels
    )
    return Sheet(
        material=material_named(design, design.made_of.fittings),
        service_class=design.use.service_class,
        span_mm=span,
        thick_mm=thick,
        bent=_worst_of_each_load(bent),
    )


def _widest_bay(leaf: Leaf) -> MM:
    return max((right - left for left, right in pairwise(leaf.rail_lanes_mm)), default=0.0)


def _worst_of_each_load(bent: Iterable[_Bent]) -> tuple[_Bent, ...]:
    return _of_each_load(bent, lambda one: one.patch.load, lambda one: one.badness)


def _of_each_load(
    found: Iterable[T], load: Callable[[T], int], badness: Callable[[T], float]
) -> tuple[T, ...]:
    """Return the worst of each load; of equals the first."""
    of: dict[int, list[T]] = {}
    for one in found:
        of.setdefault(load(one), []).append(one)
    return tuple(greatest(several, badness) for several in of.values())


def _bay_moment(patch: _Patch, bay: MM) -> float:
    """Return the moment of a wheel in the middle of a bay between rails, or of both wheels of an axle where
    both stand in it.
    """
    force, track, both = patch.force_n, patch.track_mm, 0.0
    if 0 < track < bay:
        both = force * (bay - track) / 2 - force * patch.across_mm / 8
    return max(_middle_moment(force, bay, patch.across_mm), both)


def _middle_moment(force: N, span: MM, patch: MM) -> float:
    """Return the moment of a force spread over a patch in the middle of a simple span; what lies beyond the
    span is not on it.
    """
    return force * (2 * span - patch) / 8 if patch <= span else force / patch * span**2 / 8


def _end_moment(force: N, out: MM, patch: MM) -> float:
    """Return the moment at the rail of a force spread over a patch that ends where the part ends, `out`
    beyond the rail.
    """
    return force * (out - patch / 2) if patch <= out else force / patch * out**2 / 2


def _on_slat(wheels: Iterable[_Patch], pitch_mm: MM) -> Iterator[_Patch]:
    """Yield what each load puts on one slat: its wheels, or its part of a spread load."""
    for patch in wheels:
        share = pitch_mm / patch.along_mm
        yield replace(patch, force_n=patch.force_n * share) if share < 1.0 else patch


def _wheels(design: Design, carried: Carried) -> Iterator[_Patch]:
    """Yield the wheels and feet of each load, or its patch, lengthwise across the ramp."""
    width = min(design.inner_leaf.width_mm, design.outer_leaf.width_mm)
    for index, load in enumerate(carried.loads):
        yield from _patches_of(load, index, width, carried.spans.length_mm)


def _patches_of(load: Load, index: int, width: MM, length: MM) -> Iterator[_Patch]:
    if isinstance(load, Rolling):
        found = [(axle.wheel_n, *axle.patch_mm, axle.track_mm, True) for axle in load.axles]
    elif isinstance(load, Footprint):
        found = [(load.force_n, min(load.across_mm, width), load.along_mm, 0.0, False)]
    else:
        found = [(load.n_mm * length, width, length, 0.0, True)]
    for force, across, along, track, at_edge in found:
        yield _Patch(
            force_n=force, across_mm=across, along_mm=along, track_mm=track, load=index, at_edge=at_edge
        )
