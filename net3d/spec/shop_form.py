"""The form's tables of the shop: lacing, how things are sold, and what they cost."""

from pydantic import Field

from net3d.handbook.allowances import allowance
from net3d.spec.quantities import (
    Address,
    Answer,
    Around,
    Currency,
    Days,
    Deposit,
    Hitches,
    Length,
    Markup,
    Mass,
    Money,
    Pieces,
    QuoteNumber,
    Rate,
    Ratio,
    TakeUp,
    Terms,
    Title,
    TwineName,
)
from net3d.spec.table import Table


class LacingForm(Table):
    """How the hoops are sewn in and cut netting is seamed."""

    twine: TwineName | None = Field(
        default=None, description="Lacing twine. About five thirds of the netting's weight unless given."
    )
    hitches: Hitches = Field(
        default=int(allowance("hitches")), description="Hitches a knot at every hoop but the mouth."
    )
    mouth: Hitches = Field(
        default=int(allowance("mouth_hitches")),
        description="Hitches a knot at the mouth hoop, where it wears.",
    )
    take_up: TakeUp = Field(
        default=0,
        description="Cut netting: meshes of each edge rolled into a seam. 0 unless given: edge knot to edge "
        "knot.",
    )


class HaveForm(Table):
    """What is at hand already, which the list to buy is shorter by."""

    twine: dict[TwineName, Mass] = Field(default={}, description="Weight of each twine at hand, by its name.")
    rope: Length | None = Field(default=None, description="Length of rope at hand.")
    dip: Mass | None = Field(default=None, description="Net dip at hand, by weight.")


class StockForm(Table):
    """How things are sold, and what the shop has."""

    spool: Mass | None = Field(default=None, description="Twine on a spool, by weight.")
    needle: Length | None = Field(default=None, description="Twine on a full netting needle.")
    coil: Length | None = Field(default=None, description="Rope in a coil.")
    dipped: Answer = Field(default=True, description="Whether the net is dipped. true unless given.")
    dip: Mass | None = Field(default=None, description="Net dip in a can, by weight.")
    dip_share: Ratio | None = Field(
        default=None, description="Dip taken up, as a part of the twine's dry weight."
    )
    webbing_across: Around | None = Field(
        default=None, description="Cut netting: meshes across the sheet, which runs on in depth."
    )
    webbing_deep: Around | None = Field(
        default=None, description="Cut netting: meshes deep of the sheet, which runs on across."
    )
    have: HaveForm = Field(default=HaveForm(), description="What is at hand already.")


class PricesForm(Table):
    """What things cost the maker, and the rates that work is reckoned by. A price not given is left out."""

    currency: Currency = Field(default="$", description="What prices are in.")
    hour: Money | None = Field(default=None, description="An hour of work.")
    spool: Money | None = Field(default=None, description="A spool of twine.")
    coil: Money | None = Field(default=None, description="A coil of rope.")
    hoop: Money | None = Field(default=None, description="A hoop.")
    dip: Money | None = Field(default=None, description="A can of net dip.")
    webbing: Money | None = Field(
        default=None, description="Sheet netting, for each pound or kilogram of it, whichever the spec is in."
    )
    anchor: Money | None = Field(default=None, description="The anchor.")
    floats: Money | None = Field(default=None, description="A float.")
    leads: Money | None = Field(default=None, description="A lead.")
    stakes: Money | None = Field(default=None, description="A stake.")
    markup: Markup = Field(
        default=0.0,
        description='Part of the cost that the price stands above it: 0.2, or "20 %". 0 unless given.',
    )
    price: Money | None = Field(
        default=None, description="The price of the net, if it is not to be reckoned from the cost."
    )
    knots_per_hour: Rate = Field(
        default=allowance("knots_per_hour"), description="Knots knitted in an hour. 350 unless given."
    )
    hitches_per_hour: Rate = Field(
        default=allowance("hitches_per_hour"), description="Hitches laced in an hour. 300 unless given."
    )
    cuts_per_hour: Rate = Field(
        default=allowance("cuts_per_hour"), description="Bars and points cut in an hour. 900 unless given."
    )
    fitting_hours: Rate = Field(
        default=allowance("fitting_hours"),
        description="Hours to mark hoops, rig, dip and look the net over. 3 unless given.",
    )


class QuoteForm(Table):
    """What a quote says besides the net and its price. What is not given is left out."""

    seller: Title | None = Field(default=None, description="Who sells: the quote's heading.")
    contact: Address | None = Field(default=None, description="The seller's address and telephone, one line.")
    number: QuoteNumber | None = Field(default=None, description="The quote's number.")
    valid: Days | None = Field(default=None, description="Days for which the quote holds, from its date.")
    quantity: Pieces = Field(default=1, description="Nets of this kind. 1 unless given.")
    deposit: Deposit | None = Field(
        default=None, description='Part of the sum to be paid with the order: 0.3, or "30 %".'
    )
    terms: Terms | None = Field(default=None, description="When it is ready, how it is paid and handed over.")
