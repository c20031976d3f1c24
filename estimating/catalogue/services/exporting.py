"""The catalogue as rows of the file: what is written here reads back as “nothing changes”."""

from collections import defaultdict
from collections.abc import Iterator

from estimating.catalogue.facts import facts_of
from estimating.catalogue.models import Item, Price
from estimating.catalogue.services.prices import Place
from estimating.catalogue.sheet.columns import BY_KEY
from estimating.catalogue.sheet.writing import Row


def catalogue_rows(*, history: bool = False) -> Iterator[Row]:
    """A row for each item, stock length and supplier’s price: the latest ones, or with `history` all that stand.

    An item’s facts stand in its first row; every row carries its code, kind and name.
    """
    prices = _prices(history=history)
    for item in Item.objects.with_parts().by_kind_and_name():
        places = [(stick.length_in, (item.pk, stick.pk)) for stick in item.sticks.all() if stick.offered]
        head = _write({"code": item.code, "kind": item.kind, "name": item.name})
        facts = _write(_facts(item))
        for length_in, place in places or [(None, (item.pk, None))]:
            for price in prices.get(place) or [None]:
                yield head | facts | _write({"stick": length_in, **_price(price)})
                facts = {}


def _prices(*, history: bool) -> dict[Place, list[Price]]:
    standing = Price.objects.standing().select_related("supplier")
    rows = standing.last_word_of_each_day() if history else standing.newest_of_each_source()
    found = defaultdict(list)
    for price in sorted(rows, key=lambda price: (price.dated, price.pk)):
        found[price.item_id, price.stick_id].append(price)
    return found


def _facts(item: Item) -> dict[str, object]:
    return {
        **{fact.key: getattr(item, fact.key) for fact in facts_of(item.kind)},
        "active": item.active,
        "fixings": tuple((fixing.part.code, fixing.quantity) for fixing in item.fixings.all()) or None,
        "preferred_supplier": item.preferred_supplier.name if item.preferred_supplier else None,
        "substitutes": tuple(sorted(other.code for other in item.substitutes.all())) or None,
    }


def _price(price: Price | None) -> dict[str, object]:
    if price is None:
        return {}
    return {
        "supplier": price.supplier.name if price.supplier else None,
        "amount": price.amount,
        "currency": price.currency,
        "dated": price.dated,
        "valid_until": price.valid_until,
        "note": price.note,
        "starter": price.starter or None,
    }


def _write(values: dict[str, object]) -> Row:
    return {key: BY_KEY[key].value.write(value) for key, value in values.items() if value not in (None, "")}
