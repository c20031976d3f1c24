"""The standing choices by name: what each takes and how it is called."""

from estimating.catalogue.models import Kind

CHOICES: dict[str, tuple[str, ...]] = {
    "stringer": (Kind.LUMBER,),
    "header": (Kind.LUMBER,),
    "cross_member": (Kind.LUMBER,),
    "board": (Kind.DECKING,),
    "float_item": (Kind.FLOAT,),
    "anchor": (Kind.ANCHOR,),
    "chain": (Kind.CHAIN,),
    "ramp_stringer": (Kind.LUMBER,),
    "ramp_board": (Kind.DECKING,),
}
CHOICE_LABELS: dict[str, str] = {
    "stringer": "Stringers",
    "header": "End frames",
    "cross_member": "Cross members",
    "board": "Deck boards",
    "float_item": "Floats",
    "anchor": "Anchors",
    "chain": "Chain",
    "ramp_stringer": "Ramp stringers",
    "ramp_board": "Ramp boards",
}
ESSENTIAL = ("stringer", "header", "cross_member", "board", "float_item")  # what no dock does without
SHOP_HABITS: dict[str, str] = {
    "gap_in": "Gap between boards",
    "stringer_spacing_in": "Most between stringers",
    "cross_spacing_in": "Most between cross members",
    "anchor_offset_in": "Anchors out from the corner",
    "stale_after_days": "A price is old after",
    "freight": "Usual freight on a job",
    "day_hours": "Productive hours in a day",
    "hours_rounding": "Round hours to",
    "travel_mph": "Speed on the road",
    "leftovers_to_stock": "Left-overs go to stock, at cost",
}
