"""Which parts of a net the pieces of an old one make, counted by hand."""

import pytest

from net3d.mending.pieces import Whole
from net3d.parts import Part
from net3d.shop.reuse import Wanted, made_of

TUBE = Whole(0, 0, 32, 40, True, 0.0)  # 16 meshes around, 20 deep
SHEET = Whole(0, 0, 30, 24, False, 0.0)  # 15 meshes across, 12 deep


def section(number, around, deep, plain=True, stretched=0.1):
    return Wanted(Part.section(number, number + 1), 2 * around, 2 * deep, stretched, plain)


@pytest.mark.closed_form
def test_tubes_of_as_many_meshes_are_taken_as_they_are_until_the_piece_ends():
    """20 meshes of tube: sections of 8 and 7, and 5 are left, too few for a third of 6."""
    wanted = [section(1, 16, 7), section(2, 16, 8), section(3, 16, 6)]
    made = made_of(wanted, [TUBE], 0.1, 0)
    assert [(one.pieces, one.seams) for one in made] == [((1,), 0), ((1,), 0), ((), 0)]


@pytest.mark.closed_form
@pytest.mark.parametrize(("take_up", "panels"), [(0, 2), (1, 0)])
def test_a_sheet_makes_panels_as_few_as_do(take_up, panels):
    """Of 28 around two halves of 14 x 5 lie below each other in 15 x 12.

    With a mesh taken up at each edge they are 16, which is more than 15, and quarters of 7 are 9: one beside
    nothing, so two below each other, and no third.
    """
    (wide,) = made_of([section(1, 28, 5)], [SHEET], 0.1, take_up)
    assert wide.seams == panels
    assert wide.pieces == (1,) * panels


def test_the_least_piece_that_holds_a_part_is_taken():
    made = made_of(
        [section(1, 16, 10)], [Whole(0, 0, 60, 60, False, 0.0), Whole(0, 0, 32, 20, False, 0.0)], 0.1, 0
    )
    assert made[0].pieces == (2,)


def test_netting_of_another_mesh_makes_nothing():
    (made,) = made_of([section(1, 16, 5, stretched=0.11)], [TUBE], 0.1, 0)
    assert made.pieces == ()
