"""The net in its two waters: the page draws it as it works, and its box shows it in still water."""

from json import dumps

import numpy as np

import net3d
from net3d.page.pulls import scale_top
from net3d.page.scene import scene_in_waters
from tests.nets import sample
from tests.page.test_scene import knots_of


def test_each_scene_has_the_shape_of_its_water(design):
    """Knots lie where the equilibrium of that water has them; sizes are read there too."""
    scene = scene_in_waters(design, scale_top(design))
    own = design.netting.knots_that(lambda kind: kind.throat)
    for packed, shape in ((scene, design.working.shape), (scene["still"], design.shape)):
        places = knots_of(packed)[: len(own)][own]
        assert np.abs(places - shape.knot_positions[own]).max() < packed["step"]
        whole = next(label["text"] for label in packed["labels"] if "hoop to hoop" in label["text"])
        assert whole.startswith(design.spec.tape.length(shape.length))
    drop = [np.mean(knots_of(packed)[: len(own)][own][:, 2]) for packed in (scene["still"], scene)]
    assert drop[0] < drop[1] - 0.001  # what sags in still water the current lifts


def test_the_second_water_takes_less_room_than_the_first(design):
    scene = scene_in_waters(design, scale_top(design))
    still = scene.pop("still")
    assert not {"bars", "groups"} & set(still)  # what is tied to what is told once
    assert len(dumps(still)) < 0.65 * len(dumps(scene))


def test_a_net_without_throats_has_one_water(design):
    bare = net3d.design(net3d.vary(design.spec, {"throat": None}))
    scene = scene_in_waters(bare, scale_top(bare))
    assert "still" not in scene
    assert scene["water"] == "In still water"


def test_a_net_with_wings_says_the_current_that_it_is_drawn_in():
    trap = sample("heart-trap-4x6ft")
    scene = scene_in_waters(trap, scale_top(trap))
    assert scene["water"] == "As it works, in a current of 0.3 ft/s"
    assert scene["still"]["water"] == "In still water"


def test_the_box_shows_still_water_and_says_so(offline, page):
    offline.open(page.as_uri())
    offline.click("#sizes")
    working, water = offline.net(), offline.driver.find_element("id", "water")
    assert water.text.startswith("As it works, in a slow current of ")
    offline.click("#still")
    assert water.text == "In still water"
    assert offline.net() != working
    offline.click("#still")
    assert offline.net() == working
    offline.click("#still")
    offline.click("#afresh")
    assert water.text.startswith("As it works")
    assert offline.complaints() == []
