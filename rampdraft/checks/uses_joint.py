"""What holds the hinge lines: stop bars and their welds, pins, knuckle welds, the bolts of the carrier's brackets."""

import math
from collections.abc import Callable, Iterator
from functools import partial
from typing import Final

import numpy as np

from rampdraft.checks.joining import (
    bolt_combined,
    bolt_shear_n,
    bolt_tension_n,
    correlation,
    pin_bearing_n,
    pin_moment_nmm,
    pin_moment_single_shear_nmm,
    pin_shear_n,
    weld_strength_mpa,
)
from rampdraft.checks.metal import metal_strength_mpa
from rampdraft.checks.uses import FOLDS, Found, Job, MemberUse, UnknownUse, mpa, newton, nm, worst
from rampdraft.checks.uses_surface import weld_ultimate_mpa
from rampdraft.checks.working import mm, number, percent
from rampdraft.errors import StrengthUnknownError
from rampdraft.geometry.knuckle_welds import knuckle_weld
from rampdraft.geometry.sections import properties
from rampdraft.model.design import Design, Hinge, Leaf
from rampdraft.model.places import joint_pairs_mm
from rampdraft.model.section import Section
from rampdraft.units import MM, MPA, N

STOPS: Final = "Stop bars"
PINS: Final = "Pins"
KNUCKLES: Final = "Knuckle welds"
BOLTS: Final = "Bolts of the carrier's brackets"

_Result = tuple[float, tuple[str, ...], str, int] | str
"""Ratio, working, clause and index of the load that governs; or why it cannot be judged."""


def joint_uses(job: Job) -> Iterator[Found]:
    """Yield what stop bars, pins, knuckle welds and bracket bolts use."""
    design = job.design
    inner, outer = design.inner_leaf, design.outer_leaf
    shift = max(abs(inner.knuckle_shift_mm), abs(outer.knuckle_shift_mm))
    parts: list[tuple[str, str, str, str, Callable[[], _Result]]] = []
    if design.stop.kind != "none" and not design.prop.fitted:
        fixed = design.stop.fixed_to if design.stop.kind == "lap" else "inner"
        parts.append(("stop", STOPS, "joint", f"{fixed} stop bar 1", partial(_stop, job)))
    parts += [
        ("joint-pins", PINS, "joint", "joint pin 1", partial(_pins, job, design.joint)),
        ("deck-pins", PINS, "deck hinge", "deck pin 1", partial(_pins, job, design.deck_hinge)),
        (
            "joint-knuckles",
            KNUCKLES,
            "joint",
            "inner joint knuckle 1",
            partial(_knuckles, job, design.joint, (inner, outer), shift),
        ),
        (
            "deck-knuckles",
            KNUCKLES,
            "deck hinge",
            "inner deck knuckle 1",
            partial(_knuckles, job, design.deck_hinge, (inner,), 0.0),
        ),
        ("bolts", BOLTS, "deck hinge", "carrier knuckle 1", partial(_bolts, job)),
    ]
    for key, title, subject, member, measure in parts:
        try:
            result = FOLDS if not job.carried.held else measure()
        except StrengthUnknownError as unknown:
            result = str(unknown)
        if isinstance(result, str):
            yield UnknownUse(key=key, title=title, subject=subject, why=result, member=member)
        else:
            ratio, lines, clause, load = result
            yield MemberUse(
                key=key, title=title, subject=subject, ratio=ratio, working=lines, clause=clause, member=member,
                load=job.words(load),
            )  # fmt: skip


def bearing_arm_mm(design: Design) -> MM:
    """Return the lever arm of the stop's force about the hinge centre.

    A lapping bar presses with its tip: the lap. Butting faces bear on the half of the bar farther from the centre, so the force
    stands a quarter of the bar's depth inside its edge.
    """
    stop = design.stop
    return stop.lap_mm if stop.kind == "lap" else abs(stop.arm_mm) - stop.section.depth_mm / 4


def _stop(job: Job) -> _Result:
    design, carried = job.design, job.carried
    stop, section = design.stop, design.stop.section
    count = carried.joint.stop_moment_nmm.shape[1]
    own = carried.joint.own_moment_nmm / count
    moment, load, bar_index = job.governed(own, carried.joint.stop_moment_nmm)
    arm = bearing_arm_mm(design)
    if arm <= 0:
        return "The butting faces lie about the hinge centre: they have no lever arm."
    force = moment / arm
    material = job.material(design.made_of.fittings)
    strength = metal_strength_mpa(material, job.basis, welded=material.kind == "aluminium")
    bent = float(carried.joint.stop_moment_nmm[load, bar_index])
    head = (
        f"{job.words(load)}; stop bar {bar_index + 1} of {count}",
        f"M = {job.sum_words(nm(own), nm(bent))} = {nm(moment)}",
        f"F = M / e = {nm(moment)} / {mm(arm)} = {newton(force)}",
    )
    length, throat = stop.fixed_length_mm, design.joining.weld_throat_mm
    sliding = weld_strength_mpa(weld_ultimate_mpa(material), correlation(material), job.basis)
    if stop.kind == "lap":
        modulus = properties(section).elastic_modulus_mm3
        bar = moment / (modulus * strength)
        bending = (
            f"bar at the hinge line: M / (W f) = {nm(moment)} / ({number(modulus, 0)} mm3 x {mpa(strength)}) = {percent(bar)}",
        )
        # Two lines of weld along the bar: the force across them, and its moment about their middle.
        across, turning = force / (2 * length), 6 * force * (stop.lap_mm + length / 2) / (2 * length**2)
        q = across + turning
        welds = f"q = F / (2 x {mm(length)}) + 6 F (g + l / 2) / (2 l2) = {number(q)} N/mm"
        clause = "elastic bending; EN 1993-1-8, 4.5.3.3"
    else:
        area = section.width_mm * section.depth_mm / 2
        bar = force / (area * strength)
        bending = (
            f"face: F / (half of {section.text} x f) = {newton(force)} / ({number(area, 0)} mm2 x {mpa(strength)})"
            f" = {percent(bar)}",
        )
        # The force stands above the welds by what lies between the face that bears and the rail.
        above = max(0.0, design.joint.height_mm + abs(stop.arm_mm) - section.depth_mm / 4)
        q = math.hypot(force / (2 * length), 6 * force * above / (2 * length**2))
        welds = f"q = F / (2 x {mm(length)}), with 6 F {mm(above)} / (2 l2) across = {number(q)} N/mm"
        clause = "bearing at yield; EN 1993-1-8, 4.5.3.3"
    joined = q / (throat * sliding)
    lines = (f"weld: {welds} on {mm(throat)} x {mpa(sliding)} = {percent(joined)}",)
    ratio, more = worst((bar, bending), (joined, lines))
    return ratio, (*head, *more), clause, load


def _pin_force(job: Job, hinge: Hinge) -> tuple[N, int, int, tuple[str, ...]]:
    """Return (force of the most loaded pin, load, pair, working) at a hinge line."""
    carried = job.carried
    if hinge is job.design.deck_hinge:
        force, load, pair = job.governed(carried.own_hinge_n, carried.hinge_n)
        words = job.sum_words(newton(carried.own_hinge_n), newton(float(carried.hinge_n[load, pair])))
        return force, load, pair, (f"{job.words(load)}; knuckle {pair + 1}", f"F = {words} = {newton(force)}")
    joint, pairs = carried.joint, carried.joint.shear_n.shape[1]
    shear = job.basis.gamma_g * joint.own_shear_n / pairs + job.basis.gamma_q * joint.shear_n
    if carried.spans.propped:
        along, lapped = np.zeros_like(shear), np.zeros_like(shear)
    else:
        moment = job.basis.gamma_g * joint.own_moment_nmm / pairs + job.basis.gamma_q * joint.moment_nmm
        pressed = moment / bearing_arm_mm(job.design)
        lap = job.design.stop.kind == "lap"
        along, lapped = (np.zeros_like(shear), pressed) if lap else (pressed, np.zeros_like(shear))
    forces = np.hypot(along, shear + lapped)
    chosen = forces[list(job.loads)]
    row, pair = (int(index) for index in np.unravel_index(int(chosen.argmax()), chosen.shape))
    load, force = job.loads[row], float(chosen[row, pair])
    parts = [f"shear {newton(float(shear[load, pair]))}"]
    if lapped[load, pair]:
        parts.append(f"M / e = {newton(float(lapped[load, pair]))} across the rail")
    if along[load, pair]:
        parts.append(f"M / e = {newton(float(along[load, pair]))} along the rail")
    return force, load, pair, (f"{job.words(load)}; pair {pair + 1}", f"F from {' and '.join(parts)} = {newton(force)}")


def _gap_mm(job: Job, hinge: Hinge, pair: int) -> MM:
    if hinge is job.design.deck_hinge:
        return hinge.side_gap_mm
    one, other = joint_pairs_mm(job.design)[pair]
    return abs(one - other) - hinge.knuckle_length_mm


def _pins(job: Job, hinge: Hinge) -> _Result:
    design, basis = job.design, job.basis
    material = job.material(design.made_of.fittings)
    yielding, ultimate = (
        _known(material.yield_mpa, material.name, "yield"),
        _known(material.ultimate_mpa, material.name, "ultimate"),
    )
    force, load, pair, head = _pin_force(job, hinge)
    diameter, length, gap = hinge.pin_diameter_mm, hinge.knuckle_length_mm, max(0.0, _gap_mm(job, hinge, pair))
    bar = properties(Section(kind="round", depth_mm=diameter, width_mm=diameter))
    shear = force / pin_shear_n(bar.area_mm2, ultimate, basis)
    bearing = force / pin_bearing_n(length, diameter, yielding if basis.on == "yield" else ultimate, basis)
    bent = pin_moment_single_shear_nmm(force, length, gap)
    bending = bent / pin_moment_nmm(bar.elastic_modulus_mm3, yielding if basis.on == "yield" else ultimate, basis)
    both = math.hypot(shear, bending)
    lines = (
        *head,
        f"shear of Ø{number(diameter)}: {percent(shear)}; bearing over {mm(length)}: {percent(bearing)}",
        f"M in single shear between knuckles {mm(length)} long, {mm(gap)} apart = {nm(bent)}: {percent(bending)}",
        f"shear and bending together: root of ({percent(shear)})2 + ({percent(bending)})2 = {percent(both)}",
    )
    return max(both, bearing), lines, "EN 1993-1-8, table 3.10", load


def _knuckles(job: Job, hinge: Hinge, leaves: tuple[Leaf, ...], shift: MM) -> _Result:
    design = job.design
    rails = job.material(design.made_of.rails)
    if rails.kind == "timber":
        return "Knuckles on timber rails are bolted through straps, which the design does not hold."
    weaker = min((rails, job.material(design.made_of.fittings)), key=weld_ultimate_mpa)
    sliding = weld_strength_mpa(_known(weld_ultimate_mpa(weaker), weaker.name, "ultimate"), correlation(weaker), job.basis)
    force, load, pair, head = _pin_force(job, hinge)
    welds = [knuckle_weld(hinge, leaf, shift) for leaf in leaves]
    found = [weld for weld in welds if weld is not None]
    if len(found) < len(welds):
        return "A knuckle does not lie on its rail: nothing is there to weld it to."
    weld = min(found, key=lambda one: one.length_mm)
    throat = design.joining.weld_throat_mm
    arm = (hinge.knuckle_length_mm + max(0.0, _gap_mm(job, hinge, pair))) / 2 + shift
    straight, twisted = force / weld.length_mm, force * arm / weld.twist_mm2
    q = straight + twisted
    used = q / (throat * sliding)
    lines = (
        *head,
        f"weld = 2 arcs of {mm(weld.arc_mm)} and {weld.lines} lines of {mm(weld.width_mm)} = {mm(weld.length_mm)}",
        f"F / l = {number(straight)} N/mm; F x {mm(arm)} about its middle: {number(twisted)} N/mm",
        f"q = {number(q)} N/mm on {mm(throat)} x {mpa(sliding)} = {percent(used)}",
    )
    return used, lines, "EN 1993-1-8, 4.5.3.3", load


def _bolts(job: Job) -> _Result:
    design, joining = job.design, job.design.joining
    force, load, _, head = _pin_force(job, design.deck_hinge)
    out = max(0.0, design.deck_hinge.out_mm)
    shear, pull = force / joining.bolt_count, force * out / (joining.bolt_arm_mm * joining.bolt_count)
    size, grade = joining.bolt_size, joining.bolt_class
    sheared, pulled = bolt_shear_n(size, grade, job.basis), bolt_tension_n(size, grade, job.basis)
    used = max(bolt_combined(shear, pull, size, grade, job.basis), pull / pulled)
    lines = (
        *head,
        f"a bolt: shear = F / {joining.bolt_count} = {newton(shear)}; pull = F x {mm(out)} /"
        f" ({mm(joining.bolt_arm_mm)} x {joining.bolt_count}) = {newton(pull)}",
        f"{size} {grade}: shear {newton(sheared)}, pull {newton(pulled)}",
        f"Fv / Fv,Rd + Ft / (1.4 Ft,Rd), not less than Ft / Ft,Rd = {percent(used)}",
    )
    return used, lines, "EN 1993-1-8, table 3.4", load


def _known(strength: MPA, name: str, what: str) -> MPA:
    if not strength:
        raise StrengthUnknownError(name, what)
    return strength
