"""What holds the hinge lines: stop bars and their welds, pins, knuckle welds, the bolts of the carrier's
brackets.
"""

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from itertools import pairwise
from typing import Final

import numpy as np

from rampdraft.errors import StrengthUnknownError
from rampdraft.figures import mm, number, percent
from rampdraft.geometry.lanes import joint_pairs_mm
from rampdraft.geometry.members.knuckle_welds import knuckle_weld
from rampdraft.geometry.sections import properties
from rampdraft.mechanics.joint import bearing_arm_mm
from rampdraft.model.design import Hinge, Leaf
from rampdraft.model.section import Section
from rampdraft.rounding import greatest_at
from rampdraft.strength.joining import (
    bolt_combined,
    bolt_shear_n,
    bolt_tension_n,
    pin_bearing_n,
    pin_moment_nmm,
    pin_moment_single_shear_nmm,
    pin_shear_n,
)
from rampdraft.strength.metal import metal_strength_mpa
from rampdraft.strength.uses import (
    FOLDS,
    Family,
    Found,
    Job,
    Result,
    Work,
    mpa,
    newton,
    nm,
    seam,
    uses_of,
    worst_last,
)
from rampdraft.units import MM, N

STOPS: Final = "Stop bars"
PINS: Final = "Pins"
KNUCKLES: Final = "Knuckle welds"
BOLTS: Final = "Bolts of the carrier's brackets"
NO_ARM: Final = "The butting faces lie about the hinge centre: they have no lever arm."


def joint_uses(job: Job) -> Iterator[Found]:
    """Yield what stop bars, pins, knuckle welds and bracket bolts use."""
    design = job.design
    inner, outer = design.inner_leaf, design.outer_leaf
    shift = max(abs(inner.knuckle_shift_mm), abs(outer.knuckle_shift_mm))
    parts: list[Family] = []
    if design.stop.kind != "none" and not design.prop.fitted:
        fixed = design.stop.fixed_to if design.stop.kind == "lap" else "inner"
        parts.append(Family("stop", STOPS, "joint", f"{fixed} stop bar 1", partial(_stop, job)))
    parts += [
        Family("joint-pins", PINS, "joint", "joint pin 1", partial(_pins, job, design.joint)),
        Family("deck-pins", PINS, "deck hinge", "deck pin 1", partial(_pins, job, design.deck_hinge)),
        Family(
            "joint-knuckles",
            KNUCKLES,
            "joint",
            "inner joint knuckle 1",
            partial(_knuckles, job, design.joint, (inner, outer), shift),
        ),
        Family(
            "deck-knuckles",
            KNUCKLES,
            "deck hinge",
            "inner deck knuckle 1",
            partial(_knuckles, job, design.deck_hinge, (inner,), 0.0),
        ),
        Family("bolts", BOLTS, "deck hinge", "carrier knuckle 1", partial(_bolts, job)),
    ]
    armless = not design.prop.fitted and bearing_arm_mm(design) <= 0
    if not job.carried.held:
        parts = [replace(part, measure=lambda: FOLDS) for part in parts]
    elif armless:
        parts = [replace(part, measure=lambda: NO_ARM) if part.subject == "joint" else part for part in parts]
    yield from uses_of(job, parts)


def _stop(job: Job) -> Result:
    design, carried = job.design, job.carried
    stop, section, lap = design.stop, design.stop.section, design.stop.kind == "lap"
    count = carried.joint.stop_moment_nmm.shape[1]
    own = carried.joint.own_moment_nmm / count
    moment, load, bar = job.governed(own, carried.joint.stop_moment_nmm)
    arm = bearing_arm_mm(design)
    force = moment / arm
    material = job.material(design.made_of.fittings)
    strength = metal_strength_mpa(material, job.basis, welded=material.kind == "aluminium")
    bent = float(carried.joint.stop_moment_nmm[load, bar])
    length = stop.fixed_length_mm
    leaf = design.outer_leaf if lap and stop.fixed_to == "outer" else design.inner_leaf
    weld = seam(job, (material, section), (job.material(design.made_of.rails), leaf.rail_section))
    if isinstance(weld, str):
        return weld
    modulus, area = properties(section).elastic_modulus_mm3, section.width_mm * section.depth_mm / 2
    # The force stands off the middle of the two lines of weld: a lapping bar's along it, a butting bar's
    # above it.
    off = (
        stop.lap_mm + length / 2
        if lap
        else abs(design.joint.height_mm + abs(stop.arm_mm) - section.depth_mm / 4)
    )
    straight, turning = force / (2 * length), 6 * force * off / (2 * length**2)
    q = straight + turning if lap else math.hypot(straight, turning)
    used, joined = moment / (modulus * strength) if lap else force / (area * strength), q / weld.n_mm
    crowded = _most_of_plate(job) / (modulus / section.width_mm * strength) if lap else 0.0

    def work() -> tuple[str, ...]:
        across = f"M / (W f) = {nm(moment)} / ({number(modulus, 0)} mm3 x {mpa(strength)}) = {percent(used)}"
        bearing = f"F / (A f) = {newton(force)} / ({number(area, 0)} mm2 x {mpa(strength)}) = {percent(used)}"
        part = f"bar at the hinge line: {across}" if lap else f"half of the face of {section.text}: {bearing}"
        joint = (
            (
                f"weld: F / (2 x {mm(length)}) = {number(straight)} N/mm, 6 F x {mm(off)} / (2 l2) ="
                f" {number(turning)} N/mm"
            ),
            f"together {number(q)} N/mm on {weld.words} = {percent(joined)}",
        )
        local = (f"beside the pair of knuckles that brings most, a mm of the bar: {percent(crowded)}",)
        return (
            f"{job.words(load)}; stop bar {bar + 1} of {count}",
            f"M = {job.sum_words(nm(own), nm(bent))} = {nm(moment)}",
            f"F = M / e = {nm(moment)} / {mm(arm)} = {newton(force)}",
            *worst_last((used, (part,)), (joined, joint), *(((crowded, local),) if crowded > used else ())),
        )

    clause = "elastic bending; EN 1993-1-8, 4.5.3.3" if lap else "bearing at yield; EN 1993-1-8, 4.5.3.3"
    return max(used, joined, crowded), work, clause, load


def _most_of_plate(job: Job) -> float:
    """Return the moment that comes to a mm of the width of a lapping bar, where a pair of knuckles brings
    most, N mm/mm.

    A wide plate over several pairs does not spread what one pair brings over all of itself: each pair is
    given the plate as far as its neighbours, which comes near what a grillage of rails, cross members and
    plate shows.
    """
    joint, lanes = job.carried.joint, job.design.inner_leaf.rail_lanes_mm
    width = job.design.stop.section.width_mm
    bays = [right - left for left, right in pairwise(lanes)]
    ends = max(0.0, width / 2 - max(abs(lanes[0]), abs(lanes[-1])))
    sides = [ends, *bays], [*bays, ends]
    parts = np.minimum(np.add(*sides), width)
    moments = (
        job.basis.gamma_g * joint.own_moment_nmm * joint.own_share
        + job.basis.gamma_q * joint.moment_nmm[list(job.loads)]
    )
    return float((moments / parts).max()) if len(lanes) > 1 and joint.stop_moment_nmm.shape[1] == 1 else 0.0


def _pin_force(job: Job, hinge: Hinge) -> tuple[N, int, int, Work]:
    """Return (force of the most loaded pin, load, pair, working) at a hinge line."""
    carried = job.carried
    if hinge is job.design.deck_hinge:
        force, load, pair = job.governed(carried.own_hinge_n, carried.hinge_n)
        own, most = carried.own_hinge_n, float(carried.hinge_n[load, pair])

        def deck() -> tuple[str, ...]:
            words = job.sum_words(newton(own), newton(most))
            return f"{job.words(load)}; knuckle {pair + 1}", f"F = {words} = {newton(force)}"

        return force, load, pair, deck
    joint, pairs = carried.joint, carried.joint.shear_n.shape[1]
    shears = job.basis.gamma_g * joint.own_shear_n / pairs + job.basis.gamma_q * joint.shear_n
    pressed = np.zeros_like(shears)
    if not carried.spans.propped:
        moments = (
            job.basis.gamma_g * joint.own_moment_nmm * joint.own_share + job.basis.gamma_q * joint.moment_nmm
        )
        pressed = moments / bearing_arm_mm(job.design)
    lap = job.design.stop.kind == "lap"
    forces = shears + pressed if lap else np.hypot(shears, pressed)
    chosen = forces[list(job.loads)]
    row, pair = greatest_at(chosen)
    load, force = job.loads[row], float(chosen[row, pair])
    shear, press = float(shears[load, pair]), float(pressed[load, pair])

    def work() -> tuple[str, ...]:
        own, more = newton(joint.own_shear_n / pairs), newton(float(joint.shear_n[load, pair]))
        lines = [f"{job.words(load)}; pair {pair + 1}", f"V = {job.sum_words(own, more)} = {newton(shear)}"]
        if press:
            bent, moment = nm(joint.own_moment_nmm * joint.own_share), nm(float(joint.moment_nmm[load, pair]))
            lines.append(
                f"M / e = ({job.sum_words(bent, moment)}) / {mm(bearing_arm_mm(job.design))} ="
                f" {newton(press)}"
            )
            lines.append(f"F = {'V + M / e' if lap else 'root of V2 + (M / e)2'} = {newton(force)}")
        return tuple(lines)

    return force, load, pair, work


def _gap_mm(job: Job, hinge: Hinge, pair: int) -> MM:
    if hinge is job.design.deck_hinge:
        return hinge.side_gap_mm
    one, other = joint_pairs_mm(job.design)[pair]
    return max(0.0, abs(one - other) - hinge.knuckle_length_mm)


def _pins(job: Job, hinge: Hinge) -> Result:
    design, basis = job.design, job.basis
    material = job.material(design.made_of.fittings)
    yielding, ultimate = material.yield_mpa, material.ultimate_mpa
    for strength, what in ((yielding, "yield strength"), (ultimate, "ultimate strength")):
        if not strength:
            raise StrengthUnknownError(material.name, what)
    force, load, pair, head = _pin_force(job, hinge)
    diameter, length, gap = hinge.pin_diameter_mm, hinge.knuckle_length_mm, _gap_mm(job, hinge, pair)
    bar = properties(Section(kind="round", depth_mm=diameter, width_mm=diameter))
    crushed = yielding if basis.on == "yield" else ultimate
    shear = force / pin_shear_n(
        bar.area_mm2, yielding if basis.name == "no permanent set" else ultimate, basis
    )
    bearing = force / pin_bearing_n(length, diameter, crushed, basis)
    bent = pin_moment_single_shear_nmm(force, length, gap)
    bending = bent / pin_moment_nmm(bar.elastic_modulus_mm3, crushed, basis)
    both = math.hypot(shear, bending)
    ring = force / (
        (hinge.knuckle_diameter_mm - diameter) * length * metal_strength_mpa(material, basis, welded=True)
    )

    def work() -> tuple[str, ...]:
        return (
            *head(),
            f"shear of Ø{number(diameter)}: {percent(shear)}; bearing over {mm(length)}: {percent(bearing)}",
            (
                f"M in single shear between knuckles {mm(length)} long, {mm(gap)} apart = {nm(bent)}:"
                f" {percent(bending)}"
            ),
            (
                f"shear and bending together: root of ({percent(shear)})2 + ({percent(bending)})2 ="
                f" {percent(both)}"
            ),
            f"knuckle pulled apart beside the pin, F / ((K - P) l f) = {percent(ring)}",
        )

    return max(both, bearing, ring), work, "EN 1993-1-8, table 3.10", load


def _knuckles(job: Job, hinge: Hinge, leaves: tuple[Leaf, ...], shift: MM) -> Result:
    design = job.design
    rails, fittings = job.material(design.made_of.rails), job.material(design.made_of.fittings)
    bar = Section(kind="round", depth_mm=hinge.knuckle_diameter_mm, width_mm=hinge.knuckle_diameter_mm)
    line = seam(job, (fittings, bar), *((rails, leaf.rail_section) for leaf in leaves))
    if isinstance(line, str):
        return line
    welds = [knuckle_weld(hinge, leaf, shift) for leaf in leaves]
    found = [weld for weld in welds if weld is not None]
    if len(found) < len(welds):
        return "A knuckle does not lie on its rail: nothing is there to weld it to."
    force, load, pair, head = _pin_force(job, hinge)
    weld = min(found, key=lambda one: one.length_mm)
    arm = (hinge.knuckle_length_mm + _gap_mm(job, hinge, pair)) / 2 + shift
    straight, twisted = force / weld.length_mm, force * arm / weld.twist_mm2
    used = (straight + twisted) / line.n_mm

    def work() -> tuple[str, ...]:
        return (
            *head(),
            (
                f"weld = 2 arcs of {mm(weld.arc_mm)} and {weld.lines} lines of {mm(weld.width_mm)} ="
                f" {mm(weld.length_mm)}"
            ),
            f"F / l = {number(straight)} N/mm; F x {mm(arm)} about its middle: {number(twisted)} N/mm",
            f"q = {number(straight + twisted)} N/mm on {line.words} = {percent(used)}",
        )

    return used, work, "EN 1993-1-8, 4.5.3.3", load


def _bolts(job: Job) -> Result:
    design, joining = job.design, job.design.joining
    force, load, _, head = _pin_force(job, design.deck_hinge)
    out, count, arm = max(0.0, design.deck_hinge.out_mm), joining.bolt_count, joining.bolt_arm_mm
    shear, pull = force / count, force * out / (arm * count)
    size, grade = joining.bolt_size, joining.bolt_class
    sheared, pulled = bolt_shear_n(size, grade, job.basis), bolt_tension_n(size, grade, job.basis)
    used = max(bolt_combined(shear, pull, size, grade, job.basis), pull / pulled)

    def work() -> tuple[str, ...]:
        return (
            *head(),
            (
                f"a bolt: shear = F / {count} = {newton(shear)}; pull = F x {mm(out)} / ({mm(arm)} x {count})"
                f" = {newton(pull)}"
            ),
            f"{size} {grade}: shear {newton(sheared)}, pull {newton(pulled)}",
            f"Fv / Fv,Rd + Ft / (1.4 Ft,Rd), not less than Ft / Ft,Rd = {percent(used)}",
        )

    return used, work, "EN 1993-1-8, table 3.4", load
