"""Quantities of the steps and the gap that a wheel meets: at the deck edge, at the joint, at the toe.

They are those of the deployed ramp. Where they depend on the site, the worst site is taken and named.
"""

from collections.abc import Callable

from rampdraft import figures
from rampdraft.checks.quantities.surface import slat_spans, spans_width
from rampdraft.checks.subjects import Finding, Measured, Subjects, Unjudged
from rampdraft.geometry.linkage import linkage
from rampdraft.mechanics.results import SitePose
from rampdraft.rounding import greatest
from rampdraft.units import MM

_NOWHERE = "The ramp reaches the ground at no site, so it is nowhere deployed."


def joint_step(subjects: Subjects) -> tuple[Finding, ...]:
    """Return how far the highest thing at the joint stands above the running surface: slat edge, knuckle or
    stop bar.
    """
    design = subjects.design
    inner, outer = design.inner_leaf.slat_thickness_mm, design.outer_leaf.slat_thickness_mm
    surface = min(inner, outer)
    knuckle = design.joint.height_mm + design.joint.knuckle_diameter_mm / 2
    found = [
        ("difference of the slats", abs(inner - outer), ""),
        ("knuckle above slats", max(0.0, knuckle - surface), "inner joint knuckle 1"),
    ]
    for bar in (*subjects.members("inner", "stop bar"), *subjects.members("outer", "stop bar")):
        above = max(w for _, w, _ in bar.silhouette.vertices) - surface
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
            working=figures.greatest("step", terms),
            member=member,
        ),
    )


def deck_step(subjects: Subjects) -> tuple[Finding, ...]:
    """Return the step at the deck edge: the bridge plate's thickness, or the first slat above or below the
    deck.
    """
    bridge = subjects.design.bridge
    if bridge.fitted:
        work = figures.given("step = thickness of the bridge plate", figures.mm(bridge.thickness_mm))
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
    numbers = f"{figures.mm(_first_slat(subjects, pose)[1])} - 0 mm, at {subjects.words(pose)}"
    work = figures.plain("step", "|top of the first slat - deck surface|", numbers, figures.mm(value))
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
    work = figures.given(f"step at the toe, at {subjects.words(pose)}", figures.mm(value))
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
    work = figures.plain(
        "gap to the deck",
        "edge of the first slat out from the deck edge - reach of the bridge plate, not below 0",
        f"{figures.mm(reach)} - {figures.mm(cover)}, at {subjects.words(pose)}",
        figures.mm(value),
    )
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
        spans = slat_spans(subjects, "inner")
        near = spans[0][0] if spans else 0.0
        bars = linkage(design, pose.drop_mm)
        x, z = bars.placings(pose.pose)["inner"].point(near, design.inner_leaf.slat_thickness_mm)
        subjects.kept[key] = x, z - bars.edge[1]
    return subjects.kept[key]  # pyright: ignore[reportReturnType]


def _worst(subjects: Subjects, value: Callable[[SitePose], float]) -> tuple[float, SitePose] | None:
    found = [(value(pose), pose) for pose in subjects.poses(("ground", "kerb", "platform")) if pose.reaches]
    return greatest(found, lambda one: one[0]) if found else None
