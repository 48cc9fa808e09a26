"""The ramp put down at each site: its gradients as a table."""

import math
from collections.abc import Iterator
from typing import Any

from rampdraft.drawing.style import QUIET
from rampdraft.drawing.text import degrees_text, gradient_text
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.export.pdf.flowing import Column, Row, heading, paragraph, short, table
from rampdraft.mechanics.results import LeafGradient, SitePose
from rampdraft.units import MM
from rampdraft.words.figures import exact, figure, fixed
from rampdraft.words.say import named, say


def gradients(evaluation: Evaluation) -> Iterator[Any]:
    """Yield the gradients of each part of the running surface at each site in each state of the deck."""
    columns = (
        Column(head=say("Site"), width_mm=30, bold=True),
        Column(head=say("Deck"), width_mm=22),
        Column(head=short("Bridge plate"), width_mm=24, anchor="right"),
        Column(head=say("Inner leaf"), width_mm=24, anchor="right"),
        Column(head=say("Outer leaf"), width_mm=24, anchor="right"),
        Column(head=say("Toe flap"), width_mm=24, anchor="right"),
        Column(head=say("Whole"), width_mm=32, anchor="right"),
    )
    yield from heading(say("Gradients"))
    yield paragraph(
        say(
            "Of the running surface, deployed, over rise / going in mm; positive where it climbs to the deck."
        ),
        colour=QUIET,
    )
    yield table(columns, (_site_row(evaluation, site) for site in evaluation.sites), size_pt=7.0)


def _site_row(evaluation: Evaluation, site: SitePose) -> Row:
    deck = say(site.state)
    if site.drop_mm:
        drop = figure(abs(site.drop_mm), "", 1)
        deck += say(", {drop} lower" if site.drop_mm > 0 else ", {drop} higher", drop=drop)
    cross = evaluation.design.sites[site.site_number - 1].cross_slope_percent
    remarks = [] if site.reaches else [say("the toe does not reach the ground")]
    if not site.grounds_at_toe:
        remarks.append(say("touches first with {part}", part=named(site.touches_with)))
    if site.whole.ratio < 0:
        remarks.append(say("falls to the deck"))
    if cross:
        remarks.append(say("cross slope {slope}", slope=exact(cross, "%")))
    parts = (site.bridge, site.inner, site.outer, site.flap, site.whole)
    return Row(
        cells=(
            "; ".join((f"{site.site_number}  {site.site}", *remarks)),
            deck,
            *(_gradient(leaf) if leaf is not None else "–" for leaf in parts),
        )
    )


def _gradient(leaf: LeafGradient) -> str:
    """Return a gradient three ways, over its rise and going."""
    angle = degrees_text(math.atan(leaf.ratio))
    return f"{gradient_text(leaf)}\n{angle}\n{_tenths(leaf.rise_mm)} / {_tenths(leaf.going_mm)}"


def surfaces(site: SitePose) -> Iterator[tuple[str, LeafGradient]]:
    """Yield the parts of the running surface by name."""
    if site.bridge is not None:
        yield say("bridge plate"), site.bridge
    yield say("inner leaf"), site.inner
    yield say("outer leaf"), site.outer
    if site.flap is not None:
        yield say("toe flap"), site.flap


def _tenths(value_mm: MM) -> str:
    """Return a length with its tenths, so that a column of them lines up."""
    return fixed(value_mm, 1)
