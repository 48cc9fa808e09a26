# pyright: basic, reportMissingTypeStubs=false, reportGeneralTypeIssues=false
"""Graphs and regions by scipy, which has no types of its own: the only module that imports it."""

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import label
from scipy.sparse import coo_array
from scipy.sparse.csgraph import dijkstra

from rampdraft.mechanics.folding.bodies import Index
from rampdraft.mechanics.folding.separation import Array


def cheapest_way(
    start: int, end: int, nodes: int, from_node: Index, to_node: Index, price: Array
) -> list[int] | None:
    """Return the nodes between start and end on the cheapest way over undirected edges, in order; None for no
    way.
    """
    graph = coo_array((price, (from_node, to_node)), shape=(nodes, nodes)).tocsr()
    distance, before = dijkstra(graph, directed=False, indices=start, return_predecessors=True)
    if not np.isfinite(distance[end]):
        return None
    way: list[int] = []
    node = int(before[end])
    while node != start:
        way.append(node)
        node = int(before[node])
    return way[::-1]


def joined(inside: NDArray[np.bool_], a: NDArray[np.bool_], b: NDArray[np.bool_]) -> bool:
    """Return whether a connected region of `inside` (corners count) holds a place of `a` and one of `b`."""
    names, _ = label(inside, structure=np.ones((3, 3)))
    return bool((np.intersect1d(names[a], names[b]) > 0).any())
