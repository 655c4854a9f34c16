"""Where strings go, by hand: to the first hoop beyond a throat, turned by parts of what is between them."""

from math import pi

import pytest

from tests.nets import make

pytestmark = pytest.mark.closed_form

# 16 meshes of 0.1 m on 0.29 m hang at E1 0.57: 4 meshes between hoops are 0.4 sqrt(1 - 0.57^2) = 0.33 m.
BODY = {"around": 16, "diameters": (0.31,) * 4, "deep": (4, 4, 4), "tail": 6}


def strings_of(deep, **strings):
    throat = {"hoop": 1, "deep": deep, "tip": 6, "strings": strings}
    return make(**BODY, throats=[throat]).plan.throats[0].strings


@pytest.mark.parametrize(
    ("deep", "hoop"),
    # Drawn out half as open, deep x 0.1 sqrt(1 - 0.285^2), and half of 0.29 m: 0.34, 0.53 and 0.72 m, with
    # hoops at 0.33, 0.66 and 0.99 m.
    [(2, 3), (4, 3), (6, 4)],
)
def test_strings_go_to_the_first_hoop_beyond_a_throat_s_reach(deep, hoop):
    assert strings_of(deep).to_hoop == hoop


def test_points_are_turned_by_a_part_of_what_is_between_them():
    # Four points stand a quarter of a turn apart: half of that is an eighth of a turn.
    assert strings_of(4, points=4, turn=0.5).turn == pytest.approx(2 * pi / 8)
