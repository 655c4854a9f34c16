"""Sparse matrices as entries, against those of scipy.sparse, which is unrelated code."""

import numpy as np
import pytest
from scipy import sparse

from net3d.statics.matrix import Matrix, diagonal, side_by_side, stacked

pytestmark = pytest.mark.second_route


def some(seed, shape, count):
    """Entries of whole numbers, so that sums are exact; many fall on one place, and some cancel."""
    numbers = np.random.default_rng(seed)
    rows, columns = (numbers.integers(0, size, count) for size in shape)
    return Matrix(rows, columns, numbers.integers(-2, 3, count).astype(float), shape)


def of_scipy(matrix):
    made = sparse.csc_matrix((matrix.values, (matrix.rows, matrix.columns)), shape=matrix.shape)
    made.eliminate_zeros()
    return made


def same(matrix, expected):
    expected = sparse.csc_matrix(expected)
    expected.eliminate_zeros()
    expected.sort_indices()
    found = matrix.compressed
    return matrix.shape == expected.shape and all(
        np.array_equal(getattr(found, name), getattr(expected, name))
        for name in ("data", "indices", "indptr")
    )


@pytest.mark.parametrize(("shape", "count"), [((7, 5), 60), ((40, 3), 25), ((3, 40), 0), ((0, 4), 0)])
def test_compressed_columns(shape, count):
    matrix = some(1, shape, count)
    assert same(matrix, of_scipy(matrix))
    assert same(-matrix.T, -of_scipy(matrix).T)


@pytest.mark.parametrize(("shape", "count"), [((7, 5), 60), ((40, 3), 25), ((3, 40), 0)])
def test_products(shape, count):
    first, second = some(2, shape, count), some(3, (shape[1], 6), 30)
    vector = np.arange(1.0, 1 + shape[1])
    assert np.array_equal(first @ vector, of_scipy(first) @ vector)
    assert same(first.times(second), of_scipy(first) @ of_scipy(second))
    assert same(second.T.times(first.T), (of_scipy(first) @ of_scipy(second)).T)


def test_matrices_together():
    first, second = some(4, (7, 5), 20), some(5, (3, 5), 9)
    assert same(stacked([first, second]), sparse.vstack([of_scipy(first), of_scipy(second)]))
    assert same(side_by_side([first.T, second.T]), sparse.hstack([of_scipy(first).T, of_scipy(second).T]))
    narrow = some(6, (4, 2), 9)
    padded = sparse.hstack([of_scipy(narrow), sparse.csc_matrix((4, 3))])
    assert same(stacked([first, narrow]), sparse.vstack([of_scipy(first), padded]))
    assert same(diagonal(np.array([2.0, 0.0, -1.0])), sparse.diags([2.0, 0.0, -1.0]))
