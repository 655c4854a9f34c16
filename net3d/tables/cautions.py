"""Short cautions that go with the work: usual practice, not a substitute for the local code."""

BENDING = "A bent hoop springs back: hold both ends and keep faces clear."
HOT_KNIFE = (
    "Hot knife or lighter on nylon: it melts at about 215 to 260 C, drips and sticks to skin, and its "
    "smoke is poisonous. Gloves, eye protection, long sleeves, open air."
)
DIP = "Net dip gives off flammable vapour: no flame or hot knife near it or near a net that is still wet."
RUNNING_TWINE = "Thin twine that runs through the hand under load cuts: wear gloves."
WEIGHT = "A net under a weight springs back when a knot slips: stand aside, and let the weight down slowly."
ON_THE_WATER = (
    "On the water: life jacket on, knife at hand; never tie yourself to an anchored line, never stand in a "
    "bight. A full net in current can pull harder than two people."
)
WILDLIFE = (
    "A net left untended drowns turtles and mammals: lift it often, and use the escape devices that suit "
    "the water."
)
LINES = (
    "Lines and netting in the water entangle people, boats and wildlife: mark both ends of a wing or leader, "
    "keep it out of the channel and off bathing places, and leave no loose ends of line."
)
LOCAL_CODE = (
    "Licence, tags, mesh limits (bar or stretched, wet or dry), hoop and length caps, wings, attendance "
    "hours and bycatch devices differ from water to water: look up the local code before you set a net."
)
POINTER = "Cautions for the bench and the water: net3d materials prints them. Look up the local code first."
