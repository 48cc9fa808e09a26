"""Quantities of the steps and the gap that a wheel meets: at the deck edge, at the joint, at the toe.

They are those of the deployed ramp. Where they depend on the site, the worst site is taken and named.
"""

from collections.abc import Callable

from rampdraft import figures
from rampdraft.checks.quantities.surface import spans_width
from rampdraft.checks.result import Finding, Measured, Subjects, Unjudged
from rampdraft.geometry.ground_line import ground_line
from rampdraft.geometry.linkage import linkage
from rampdraft.geometry.running_surface import laid_out, laid_straight, tread
from rampdraft.mechanics.results import SitePose
from rampdraft.prose import Lines, prose
from rampdraft.rounding import greatest
from rampdraft.units import MM

_NOWHERE = "The ramp reaches the ground at no site, so it is nowhere deployed."


def joint_step(subjects: Subjects) -> tuple[Finding, ...]:
    """Return how far the highest thing at the joint stands above the running surface: slat edge, knuckle or
    stop bar.
    """
    design, laid = subjects.design, laid_straight(subjects.design)
    inner, outer = design.inner_leaf.slat_thickness_mm, design.outer_leaf.slat_thickness_mm
    surface = min(inner, outer)
    knuckle = next(one for one in subjects.members("inner", "knuckle") if one.kin.hinge == "joint")
    found = [
        ("difference of the slats", abs(inner - outer), ""),
        ("knuckle above slats", max(0.0, laid.top_mm(knuckle) - surface), knuckle.key),
    ]
    for bar in (*subjects.members("inner", "stop bar"), *subjects.members("outer", "stop bar")):
        above = laid.top_mm(bar) - surface
        if above > 0:
            found.append(("stop bar above slats", above, bar.key))
        elif spans_width(subjects, bar):
            found.append(("stop plate below slats", -above, bar.key))
    _, value, member = greatest(found, lambda one: one[1])
    terms = tuple((name, height) for name, height, _ in found)
    return (
        Measured(
            key="joint",
            part="joint",
            subject="joint",
            value=value,
            working=prose(figures.greatest, "step", terms),
            member=member,
        ),
    )


def deck_step(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the step at the deck edge: the bridge plate's thickness, or the first slat above or below the
    deck.
    """
    bridge = subjects.design.bridge
    if bridge.fitted:
        work = prose(_of_plate, bridge.thickness_mm)
        return (
            Measured(
                key="deck-edge",
                part="deck-edge",
                subject="deck edge",
                value=bridge.thickness_mm,
                working=work,
                member="bridge plate",
            ),
        )
    worst = _worst(subjects, lambda pose: abs(_first_slat(subjects, pose)[1]))
    if worst is None:
        return (Unjudged(key="deck-edge", part="deck-edge", subject="deck edge", why=_NOWHERE),)
    value, pose = worst
    work = prose(_to_deck, _first_slat(subjects, pose)[1], subjects.words(pose))
    return (
        Measured(
            key="deck-edge",
            part="deck-edge",
            subject="deck edge",
            value=value,
            working=work,
            site_number=pose.site_number,
        ),
    )


def toe_step(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the step where the ground ends and the toe begins, at the worst site."""
    worst = _worst(subjects, lambda pose: abs(pose.toe_step_mm))
    if worst is None:
        return (Unjudged(key="toe", part="toe", subject="toe", why=_NOWHERE),)
    value, pose = worst
    work = prose(_at_toe, value, subjects.words(pose))
    return (
        Measured(
            key="toe", part="toe", subject="toe", value=value, working=work, site_number=pose.site_number
        ),
    )


def step(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the steps at deck edge, joint and toe."""
    return (*deck_step(subjects), *joint_step(subjects), *toe_step(subjects))


def vehicle_gap(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the gap from the deck edge to the first slat, less what a bridge plate covers, at the worst
    site.
    """
    bridge = subjects.design.bridge
    cover = max(0.0, bridge.length_mm - bridge.over_deck_mm) if bridge.fitted else 0.0
    worst = _worst(subjects, lambda pose: max(0.0, _first_slat(subjects, pose)[0] - cover))
    if worst is None:
        return (Unjudged(key="deck-edge", part="deck-edge", subject="deck edge", why=_NOWHERE),)
    value, pose = worst
    reach = _first_slat(subjects, pose)[0]
    work = prose(_gap_to_deck, reach, cover, subjects.words(pose))
    return (
        Measured(
            key="deck-edge",
            part="deck-edge",
            subject="deck edge",
            value=value,
            working=work,
            site_number=pose.site_number,
        ),
    )


def _first_slat(subjects: Subjects, pose: SitePose) -> tuple[MM, MM]:
    """Return the near top edge of the first slat from the deck edge: (out, up)."""
    key = ("first slat", pose.site_number, pose.state)
    if key not in subjects.kept:
        design = subjects.design
        ground = ground_line(design.sites[pose.site_number - 1])
        laid = laid_out(design, ground, pose.pose, pose.drop_mm, pose.flap_rad)
        (x, z), _ = tread(subjects.members("inner", "slat")[0], laid).points
        subjects.kept[key] = x, z - linkage(design, pose.drop_mm).edge[1]
    return subjects.kept[key]


def _worst(subjects: Subjects, value: Callable[[SitePose], float]) -> tuple[float, SitePose] | None:
    found = [(value(pose), pose) for pose in subjects.poses(("ground", "kerb", "platform")) if pose.reaches]
    return greatest(found, lambda one: one[0]) if found else None


def _of_plate(thickness_mm: MM) -> Lines:
    return figures.given("step = thickness of the bridge plate", figures.mm(thickness_mm))


def _to_deck(up_mm: MM, where: str) -> Lines:
    numbers = f"{figures.mm(up_mm)} - 0 mm, at {where}"
    return figures.plain("step", "|top of the first slat - deck surface|", numbers, figures.mm(abs(up_mm)))


def _at_toe(step_mm: MM, where: str) -> Lines:
    return figures.given(f"step at the toe, at {where}", figures.mm(step_mm))


def _gap_to_deck(reach_mm: MM, cover_mm: MM, where: str) -> Lines:
    return figures.plain(
        "gap to the deck",
        "edge of the first slat out from the deck edge - reach of the bridge plate, not below 0",
        f"{figures.mm(reach_mm)} - {figures.mm(cover_mm)}, at {where}",
        figures.mm(max(0.0, reach_mm - cover_mm)),
    )
