"""Sparse matrices as their entries: all that stating a program needs, and what the solver reads.

A library's take a tenth of a second to load, as long as a plain net takes to solve.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from net3d.netting.netting import Floats, Ints


@dataclass(frozen=True, eq=False)
class Matrix:
    """Entries (k,) by row and column, in any order; those of one place add up."""

    rows: Ints
    columns: Ints
    values: Floats
    shape: tuple[int, int]

    @property
    def T(self) -> Matrix:  # noqa: N802 - as arrays have it
        """The transpose."""
        return Matrix(self.columns, self.rows, self.values, self.shape[::-1])

    def __neg__(self) -> Matrix:
        """Every entry with its sign changed."""
        return Matrix(self.rows, self.columns, -self.values, self.shape)

    def __matmul__(self, vector: Floats) -> Floats:
        """The product with a vector (columns,)."""
        sums = np.bincount(self.rows, self.values * vector[self.columns], self.shape[0])
        return np.asarray(sums, dtype=float)

    def times(self, other: Matrix) -> Matrix:
        """The product with another matrix: each entry with all of the other's row of its column."""
        counts = np.bincount(other.rows, minlength=other.shape[0])
        order, firsts = np.argsort(other.rows, kind="stable"), np.cumsum(counts) - counts
        lengths = counts[self.columns]
        ends = np.cumsum(lengths)
        before = firsts[self.columns] - ends + lengths
        met = order[np.arange(len(before) and ends[-1]) + np.repeat(before, lengths)]
        rows, values = np.repeat(self.rows, lengths), np.repeat(self.values, lengths) * other.values[met]
        return Matrix(rows, other.columns[met], values, (self.shape[0], other.shape[1]))

    @cached_property
    def compressed(self) -> Compressed:
        """The same column by column; entries that add up to nothing are none."""
        height, width = self.shape
        places = self.columns * height + self.rows
        order = np.argsort(places, kind="stable")  # quick where entries come in runs
        places = places[order]
        firsts = np.flatnonzero(np.diff(places, prepend=-1))
        values, places = np.add.reduceat(self.values[order], firsts), places[firsts]
        places, values = places[values != 0.0], values[values != 0.0]
        starts = np.searchsorted(places, height * np.arange(width + 1))
        return Compressed(values, places % max(height, 1), starts, self.shape)


@dataclass(frozen=True, eq=False)
class Compressed:
    """A matrix by columns, under the names that the solver reads: ``data`` of rows ``indices``."""

    data: Floats
    indices: Ints
    indptr: Ints  # where each column begins, and the last ends (columns + 1,)
    shape: tuple[int, int]
    has_canonical_format: bool = True  # rows in order, none twice


def diagonal(values: Floats) -> Matrix:
    """A square matrix with these values (n,) along its diagonal [-]."""
    places = np.arange(len(values))
    return Matrix(places, places, values, (len(values), len(values)))


def side_by_side(matrices: Sequence[Matrix]) -> Matrix:
    """Matrices one after the other, as high as the highest."""
    return stacked([matrix.T for matrix in matrices]).T


def stacked(matrices: Sequence[Matrix]) -> Matrix:
    """Matrices one below the other, as wide as the widest."""
    heights = [matrix.shape[0] for matrix in matrices]
    firsts = np.repeat(np.cumsum([0, *heights[:-1]]), [len(matrix.rows) for matrix in matrices])
    return Matrix(
        np.concatenate([matrix.rows for matrix in matrices]) + firsts,
        np.concatenate([matrix.columns for matrix in matrices]),
        np.concatenate([matrix.values for matrix in matrices]),
        (sum(heights), max(matrix.shape[1] for matrix in matrices)),
    )
