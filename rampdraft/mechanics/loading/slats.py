"""Slats that go on over their rails: what they share among them where one sinks more than another.

Rails and cross members are judged as if slats shared nothing: that is an equilibrium by itself, and slats
that share relieve them (`tests/validation/test_slats_that_share.py` holds it). A slat and its fixings are
judged as Euler-Bernoulli beams on as many points as there are rails, which sink by C X under the reactions X.
With G(y) = |y|^3 / 12 E I, how an endless beam sinks under 1 N (Timoshenko, Strength of Materials), G X + C X
less G of the load is a straight line, and X balances the load.

C is that of the grillage with the other slats: those between two stations are as many beams at them. What
they give among rails are forces that balance by themselves, R - 2 at a station (force method: F of the
grillage without slats, B those forces, D how the slats give under them, C = F - F B (B' F B + D)^-1 B' F).
"""

from dataclasses import dataclass
from typing import Final

import numpy as np

from rampdraft.mechanics.loading.grillage import Grillage
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design
from rampdraft.units import MM, Array, ArrayRecord

_POINTS: Final[Array] = np.array([-3.0, -1.0, 1.0, 3.0]) / 8
"""Of a patch's width, where so many points stand for it: in its middle they bend as much as it does."""
_HAIR_MM: Final = 1e-6
_STEEL_MPA: Final = 210e3
"""Of a material that has no modulus given, as steel."""

Wheels = tuple[MM, MM, bool]
"""How wide a wheel or patch is; how far the other wheel of its axle is, 0 for none; whether it comes to the
edges, or stays in the middle of the surface.
"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SharingSlats(ArrayRecord):
    """The slats of a leaf as beams over its rails. S stations, R rails."""

    lanes_mm: tuple[MM, ...]
    width_mm: MM
    """Of the surface."""
    bend_nmm2: float
    """E I of one."""
    sinks_mm_n: Array
    """How far each rail sinks under 1 N on each rail at the same station, all slats but one there helping,
    (S, R, R).
    """


def sharing_slats(design: Design, frame: Grillage) -> tuple[SharingSlats, SharingSlats]:
    """Return the slats of both leaves over rails that sink; on a mechanism these do not."""
    where, (stations, rails) = frame.place("sunk")
    sinks = frame.effects[where].reshape(stations, rails, stations, rails)
    elastic = material_named(design, design.made_of.slats).elastic_mpa or _STEEL_MPA
    leaves, x = (design.inner_leaf, design.outer_leaf), (frame.inner_mm, frame.outer_mm)
    bends = [elastic * leaf.slat_width_mm * leaf.slat_thickness_mm**3 / 12 for leaf in leaves]
    gives: list[Array] = []
    counts: list[Array] = []
    balanced: list[Array] = []
    for leaf, bend, at in zip(leaves, bends, x, strict=True):
        lanes, ends = np.array(leaf.rail_lanes_mm), np.concatenate((at[:1], (at[1:] + at[:-1]) / 2, at[-1:]))
        own = _balanced(lanes)
        counts.append(np.diff(ends) / leaf.slat_pitch_mm)
        balanced.extend([own] * len(at))
        gives.extend([own.T @ _sinking(lanes[:, None] - lanes, bend) @ own] * len(at))
    here = _helped(sinks, np.concatenate(counts)[:, None, None], np.array(balanced), np.array(gives))
    inner, outer = (
        SharingSlats(lanes_mm=leaf.rail_lanes_mm, width_mm=leaf.width_mm, bend_nmm2=bend, sinks_mm_n=part)
        for leaf, bend, part in zip(leaves, bends, np.split(here, [len(x[0])]), strict=True)
    )
    return inner, outer


def _helped(sinks: Array, count: Array, forces: Array, give: Array) -> Array:
    """Return how far each rail sinks under 1 N on each rail at the same station, (S, R, R), all slats but one
    there helping.

    `count` (S, 1, 1) stand at each station; `forces` B (S, R, R - 2) give by `give` (S, R - 2, R - 2) in one.
    """
    stations, rails, free = forces.shape
    every = np.arange(int(stations))
    here = sinks[every, :, every]
    if not free:
        return here
    parted = (forces.swapaxes(1, 2) @ sinks.reshape(stations, rails, -1)).reshape(-1, stations, rails)
    whole = (parted.swapaxes(0, 1) @ forces).swapaxes(0, 1).reshape(stations, free, stations, free).copy()
    whole[every, :, every] += give / count
    inverse = np.linalg.inv(whole.reshape(stations * free, -1))
    held = (inverse @ parted.reshape(stations * free, -1)).reshape(stations, free, stations, rails)
    here = here - parted.transpose(1, 2, 0) @ held.transpose(2, 0, 1, 3).reshape(stations, -1, rails)
    # One slat fewer at the station itself, or none where there was but one.
    less = np.where(count > 1, np.linalg.inv(give) * (count - 1) * count, 0.0)
    own = held[every, :, every]
    kept = inverse.reshape(stations, free, stations, free)[every, :, every]
    return here + own.swapaxes(1, 2) @ np.linalg.solve(less + kept, own)


def _balanced(lanes: Array) -> Array:
    """Return forces on three rails after one another that have no sum and no moment, (R, R - 2)."""
    found = np.zeros((len(lanes), max(len(lanes) - 2, 0)))
    for number in range(found.shape[1]):
        a, b, c = lanes[number : number + 3]
        found[number : number + 3, number] = (c - b) / (c - a), -1.0, (b - a) / (c - a)
    return found


def shared(slats: SharingSlats, kinds: tuple[Wheels, ...]) -> Array:
    """Return the moment in a slat, mm, its pull on the fixings at a rail, and its moment over a rail, of 1 N
    on each wheel, wherever each is most: (kinds, 3).

    Wheels stand in the middle of each bay, over each rail, and at the edges.
    """
    lanes = np.array(slats.lanes_mm)
    found = [_placed(slats, *kind) for kind in kinds]
    weights = np.array([1 / 4 if track else 1 / 8 for _, track, _ in kinds])
    kind = np.repeat(np.arange(len(kinds)), [len(points) for points in found])
    points = np.concatenate(found)
    reactions = weights[kind, None] * _reactions(slats, points)
    at = np.concatenate((np.broadcast_to(lanes, (len(points), len(lanes))), points), axis=1)
    moments = np.einsum("spr,prz->spz", reactions, np.maximum(at[:, None, :] - lanes[:, None], 0.0))
    moments -= weights[kind, None] * np.maximum(at[:, None, :] - points[..., None], 0.0).sum(axis=1)
    size = np.abs(moments)
    most = size.max(axis=(0, 2)), -reactions.min(axis=(0, 2)), size[:, :, : len(lanes)].max(axis=(0, 2))
    result = np.zeros((len(kinds), len(most)))
    for column, values in enumerate(most):
        np.maximum.at(result[:, column], kind, values)
    result.setflags(write=False)
    return result


def _placed(slats: SharingSlats, across_mm: MM, track_mm: MM, at_edge: bool) -> Array:
    """Return the points of both wheels wherever they are tried, (P, 8); one wheel's twice."""
    half, lanes = slats.width_mm / 2 - across_mm / 2, np.array(slats.lanes_mm)
    wanted = np.concatenate((lanes, (lanes[1:] + lanes[:-1]) / 2, (-half, half)))
    first = np.unique(np.concatenate((wanted, wanted - track_mm))) if at_edge else np.zeros(1)
    first = first[(first >= -half - _HAIR_MM) & (first + track_mm <= half + _HAIR_MM)]
    return first[:, None] + np.concatenate((_POINTS * across_mm, track_mm + _POINTS * across_mm))


def _reactions(slats: SharingSlats, points: Array) -> Array:
    """Return what comes to each rail at each station of 1 N on each of K points together, (S, P, R), of
    points (P, K).
    """
    lanes, rails = np.array(slats.lanes_mm), len(slats.lanes_mm)
    line = np.stack((np.ones(rails), lanes), axis=1)
    whole = np.zeros((len(slats.sinks_mm_n), rails + 2, rails + 2))
    whole[:, :rails, :rails] = slats.sinks_mm_n + _sinking(lanes[:, None] - lanes, slats.bend_nmm2)
    whole[:, :rails, rails:], whole[:, rails:, :rails] = line, line.T
    right = np.empty((rails + 2, len(points)))
    right[:rails] = _sinking(points - lanes[:, None, None], slats.bend_nmm2).sum(axis=-1)
    right[rails], right[rails + 1] = points.shape[1], points.sum(axis=1)
    found = np.linalg.solve(whole, np.broadcast_to(right, (len(whole), *right.shape))).astype(np.float64)
    return found[:, :rails].swapaxes(1, 2)


def _sinking(away_mm: Array, bend_nmm2: float) -> Array:
    return np.abs(away_mm) ** 3 / (12 * bend_nmm2)
