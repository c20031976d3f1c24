"""What a file would change, worked out against the catalogue as it stands, before anything is written."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from django.utils import timezone

from contractor.company.current import units
from estimating.catalogue.facts import FACTS, facts_of, faults_in, label_of
from estimating.catalogue.models import Item, Kind, Price, Supplier
from estimating.catalogue.models.items import GOODS, WOOD
from estimating.catalogue.services.items import uses_of
from estimating.catalogue.services.prices import PriceFacts, price_faults
from estimating.catalogue.sheet.columns import FACT_KEYS, PRICE_KEYS
from estimating.catalogue.sheet.rows import EMPTY, BadCell, Row, Sheet
from estimating.catalogue.values import Length, short

STOCK_LENGTH = Length("ft")
LINKS = ("fixings", "preferred_supplier", "substitutes")


@dataclass(frozen=True)
class FieldChange:
    """One fact that would change, in words."""

    label: str
    before: str
    after: str


@dataclass(frozen=True)
class PlannedItem:
    """An item the file makes or changes. A link of None stays as it is."""

    code: str
    kind: str
    facts: dict[str, Any]
    item: Item | None = None
    changes: tuple[FieldChange, ...] = ()
    new_lengths_in: tuple[float, ...] = ()
    fixings: tuple[tuple[str, Decimal], ...] | None = None
    substitutes: tuple[str, ...] | None = None
    supplier: str | None = None  # "" takes the usual supplier away
    active: bool = True

    @property
    def kind_label(self) -> str:
        return str(Kind(self.kind).label)


@dataclass(frozen=True)
class PlannedPrice:
    """A price the file adds; `before` is what the same supplier asked until now."""

    code: str
    name: str
    length_in: float | None
    supplier: str
    facts: PriceFacts
    before: Decimal | None = None


@dataclass
class Plan:
    """Everything a file would do; nothing is done while there is a bad cell."""

    bad_cells: list[BadCell] = field(default_factory=list)
    new_suppliers: list[str] = field(default_factory=list)
    new_items: list[PlannedItem] = field(default_factory=list)
    changed_items: list[PlannedItem] = field(default_factory=list)
    prices: list[PlannedPrice] = field(default_factory=list)
    unchanged_items: int = 0
    unchanged_prices: int = 0

    @property
    def nothing_changes(self) -> bool:
        return not (self.bad_cells or self.new_items or self.changed_items or self.prices)


class Stock:
    """The catalogue as it stands, read once for a whole file."""

    def __init__(self) -> None:
        self.items = {item.code.lower(): item for item in Item.objects.with_parts()}
        self.suppliers = {supplier.name.lower(): supplier for supplier in Supplier.objects.all()}
        self.prices: dict[tuple[int, float | None, str], list[Price]] = defaultdict(list)
        standing = Price.objects.standing().select_related("stick", "supplier").order_by("dated", "pk")
        for price in standing:
            length_in = price.stick.length_in if price.stick else None
            supplier = price.supplier.name.lower() if price.supplier else ""
            self.prices[price.item_id, length_in, supplier].append(price)


def plan_import(sheet: Sheet) -> Plan:
    """Compare a file with the catalogue. The plan’s bad cells include those of the sheet."""
    return _Planner(sheet, Stock()).plan()


class _Planner:
    def __init__(self, sheet: Sheet, stock: Stock) -> None:
        self.sheet, self.stock = sheet, stock
        self.result = Plan()
        self.groups = self._grouped()
        self.kinds = {code: item.kind for code, item in stock.items.items()} | {
            code: rows[0].values["kind"] for code, rows in self.groups.items() if rows[0].values.get("kind")
        }
        self.suppliers: dict[str, str] = {}

    def plan(self) -> Plan:
        for code, rows in self.groups.items():
            self._plan_item(code, rows)
        named = {name.lower(): name for name in self.suppliers.values()}
        self.result.new_suppliers = [name for key, name in named.items() if key not in self.stock.suppliers]
        self.result.bad_cells = sorted(self.sheet.bad_cells, key=lambda cell: (cell.row, len(cell.letter), cell.letter))
        return self.result

    def _grouped(self) -> dict[str, list[Row]]:
        groups: dict[str, list[Row]] = {}
        for row in self.sheet.rows:
            if "code" in row.values:
                groups.setdefault(row.values["code"].lower(), []).append(row)
            elif "code" not in row.failed and self.sheet.has("code"):
                self.sheet.fault(row, "code", "Every row needs the code of its item.")
        return groups

    def _plan_item(self, code: str, rows: list[Row]) -> None:
        item = self.stock.items.get(code)
        kind = self._kind(item, rows)
        if kind is None:
            return
        facts = self._facts(kind, item, rows)
        lengths_in = self._lengths(kind, item, rows)
        planned = PlannedItem(
            code=item.code if item else rows[0].values["code"],
            kind=kind,
            facts=facts,
            item=item,
            new_lengths_in=lengths_in,
            fixings=self._link(rows, "fixings", ()),
            substitutes=self._link(rows, "substitutes", ()),
            supplier=self._supplier(self._link(rows, "preferred_supplier", "")),
            active=self._active(item, rows),
        )
        self._check_links(planned, rows)
        self._keep(planned)
        self._plan_prices(planned, rows)

    def _kind(self, item: Item | None, rows: list[Row]) -> str | None:
        kind = self._one(rows, "kind")
        if item is None and kind is None:
            if "kind" not in rows[0].failed:
                self.sheet.fault(rows[0], "kind", "This code is new: say what kind of thing it is.")
            return None
        if item is not None and kind not in (None, item.kind):
            self.sheet.fault(
                rows[0], "kind", f"{item.name} is kept as {item.kind}, and that can’t change. Use a new code."
            )
        return item.kind if item else kind

    def _facts(self, kind: str, item: Item | None, rows: list[Row]) -> dict[str, Any]:
        facts = {}
        for fact in facts_of(kind):
            value = self._one(rows, fact.key)
            stands = getattr(item, fact.key) if item else fact.empty
            facts[fact.key] = stands if value is None else fact.empty if value is EMPTY else value
        for key, sentence in faults_in(kind, facts).items():
            if not any(key in row.failed for row in rows):
                self.sheet.fault(rows[0], key, sentence)
        self._refuse_strays(kind, rows)
        return facts

    def _refuse_strays(self, kind: str, rows: list[Row]) -> None:
        fits = {fact.key for fact in facts_of(kind)} | {"preferred_supplier", "substitutes"}
        if kind not in WOOD:
            fits.add("fixings")
        for row in rows:
            for key in FACT_KEYS:
                if key in row.values and key not in fits:
                    sentence = f"{Kind(kind).label} have no {_heading(key)}. Leave this cell empty."
                    self.sheet.fault(row, key, sentence)

    def _lengths(self, kind: str, item: Item | None, rows: list[Row]) -> tuple[float, ...]:
        stands = {stick.length_in for stick in item.sticks.all() if stick.offered} if item else set()
        given = {row.values["stick"]: row for row in rows if "stick" in row.values}
        if kind not in WOOD:
            for row in given.values():
                self.sheet.fault(row, "stick", "Only lumber and decking come in stock lengths. Leave this cell empty.")
            return ()
        if not given and not stands and not any("stick" in row.failed for row in rows):
            self.sheet.fault(rows[0], "stick", "Say in which lengths the yard sells it, a row for each.")
        return tuple(sorted(set(given) - stands))

    def _active(self, item: Item | None, rows: list[Row]) -> bool:
        active = self._one(rows, "active")
        if active is None:
            return item.active if item else True
        if item is not None and item.active and not active and (uses := uses_of(item)):
            self.sheet.fault(rows[0], "active", f"Still named by {'; '.join(uses)}. Change that before retiring it.")
        return active

    def _link(self, rows: list[Row], key: str, empty: Any) -> Any:
        """What the file says of a link: None where it says nothing."""
        value = self._one(rows, key)
        return empty if value is EMPTY else value

    def _supplier(self, name: str | None) -> str | None:
        """The supplier by the name already known, so that small and large letters make no second one."""
        if not name:
            return name
        name = " ".join(name.split())
        known = self.stock.suppliers.get(name.lower())
        return self.suppliers.setdefault(name.lower(), known.name if known else name)

    def _check_links(self, planned: PlannedItem, rows: list[Row]) -> None:
        seen = set()
        for code, _ in planned.fixings or ():
            sentence = self._fixing_fault(planned, code, seen)
            if sentence:
                self._fault_where(rows, "fixings", sentence)
            seen.add(code.lower())
        for code in planned.substitutes or ():
            if code.lower() not in self.kinds:
                self._fault_where(rows, "substitutes", f"There is no item {code}, here or in the catalogue.")
            elif code.lower() == planned.code.lower():
                self._fault_where(rows, "substitutes", "A thing can’t stand in for itself.")

    def _fixing_fault(self, planned: PlannedItem, code: str, seen: set[str]) -> str:
        kind = self.kinds.get(code.lower())
        known = self.stock.items.get(code.lower())
        if kind is None:
            return f"There is no item {code}, here or in the catalogue."
        if kind not in GOODS:
            return f"{code} is no hardware. Fixings are plates, bolts, screws and the like."
        if code.lower() == planned.code.lower():
            return "A thing is not fixed with itself."
        if known is not None and not known.active:
            return f"{code} is retired. Choose another part."
        return f"{code} is there twice. Add the counts up." if code.lower() in seen else ""

    def _keep(self, planned: PlannedItem) -> None:
        if planned.item is None:
            self.result.new_items.append(planned)
            return
        changes = tuple(_changes(planned))
        if not changes:
            self.result.unchanged_items += 1
            return
        self.result.changed_items.append(PlannedItem(**{**planned.__dict__, "changes": changes}))

    def _plan_prices(self, planned: PlannedItem, rows: list[Row]) -> None:
        seen: dict[tuple, tuple[Row, PriceFacts]] = {}
        for row in rows:
            facts = self._price_facts(row)
            if facts is None or not self._has_length(planned, row):
                continue
            supplier = self._supplier(row.values.get("supplier")) or ""
            length_in = row.values.get("stick")
            place = (length_in, supplier.lower(), facts.dated)
            if place in seen:
                self._refuse_twice(row, facts, *seen[place])
                continue
            seen[place] = (row, facts)
            self._plan_price(planned, PlannedPrice(planned.code, planned.facts["name"], length_in, supplier, facts))

    def _price_facts(self, row: Row) -> PriceFacts | None:
        given = {key: row.values[key] for key in PRICE_KEYS if key in row.values}
        if "amount" not in given:
            if given and "amount" not in row.failed:
                self.sheet.fault(row, "amount", f"There is a {_heading(next(iter(given)))} but no price.")
            return None
        missing = [key for key in ("currency", "dated") if key not in given]
        for key in missing:
            if key not in row.failed:
                self.sheet.fault(row, key, f"Every price needs its {'currency' if key == 'currency' else 'day'}.")
        if missing or row.failed & set(PRICE_KEYS):
            return None
        facts = PriceFacts(**{key: value for key, value in given.items() if key != "supplier"})
        faults = price_faults(facts, on=timezone.localdate())
        for key, sentence in faults.items():
            self.sheet.fault(row, key, sentence)
        return None if faults else facts

    def _has_length(self, planned: PlannedItem, row: Row) -> bool:
        if planned.kind in WOOD and "stick" not in row.values and "stick" not in row.failed:
            self.sheet.fault(row, "stick", "Say which stock length this is the price of.")
        return (planned.kind in WOOD) == ("stick" in row.values)

    def _refuse_twice(self, row: Row, facts: PriceFacts, first: Row, first_facts: PriceFacts) -> None:
        if facts != first_facts:
            sentence = f"Row {first.number} has another price of the same supplier and day. Keep the right one."
            self.sheet.fault(row, "amount", sentence)

    def _plan_price(self, planned: PlannedItem, price: PlannedPrice) -> None:
        place = (planned.item.pk if planned.item else 0, price.length_in, price.supplier.lower())
        stands = self.stock.prices.get(place, []) if planned.item else []
        if any(_same(old, price.facts) for old in stands):
            self.result.unchanged_prices += 1
            return
        before = stands[-1].amount if stands else None
        self.result.prices.append(PlannedPrice(**{**price.__dict__, "before": before}))

    def _one(self, rows: list[Row], key: str) -> Any:
        """The value the rows of an item agree on; a row that says otherwise is a bad cell."""
        first = next((row for row in rows if key in row.values), None)
        if first is None:
            return None
        for row in rows:
            if key in row.values and row.values[key] != first.values[key]:
                sentence = f"Row {first.number} says {first.typed[key]} for the same item. Make them alike."
                self.sheet.fault(row, key, sentence)
        return first.values[key]

    def _fault_where(self, rows: Iterable[Row], key: str, sentence: str) -> None:
        """At the row that says it."""
        self.sheet.fault(next(row for row in rows if key in row.values), key, sentence)


def _changes(planned: PlannedItem) -> Iterable[FieldChange]:
    item, system = planned.item, units()
    for fact in facts_of(item.kind):
        before, after = getattr(item, fact.key), planned.facts[fact.key]
        if before != after:
            words = ["nothing" if value in (None, "") else fact.value.say(value, system) for value in (before, after)]
            yield FieldChange(label_of(item.kind, fact.key), *words)
    yield from _link_changes(planned)
    if planned.new_lengths_in:
        said = ", ".join(STOCK_LENGTH.say(length_in, system) for length_in in planned.new_lengths_in)
        yield FieldChange("Stock lengths", "", f"also {said}")
    if item.active != planned.active:
        words = {True: "in use", False: "retired"}
        yield FieldChange("In use", words[item.active], words[planned.active])


def _link_changes(planned: PlannedItem) -> Iterable[FieldChange]:
    item = planned.item
    supplier = item.preferred_supplier.name if item.preferred_supplier else ""
    if planned.supplier is not None and planned.supplier.lower() != supplier.lower():
        yield FieldChange("Usual supplier", supplier or "nobody", planned.supplier or "nobody")
    fixings = [(fixing.part.code, fixing.quantity) for fixing in item.fixings.all()]
    if planned.fixings is not None and [(c.lower(), q) for c, q in planned.fixings] != [
        (c.lower(), q) for c, q in fixings
    ]:
        yield FieldChange("Fixings", _said(fixings), _said(planned.fixings))
    others = sorted(other.code for other in item.substitutes.all())
    wanted = sorted(planned.substitutes or ())
    if planned.substitutes is not None and [c.lower() for c in wanted] != [c.lower() for c in others]:
        yield FieldChange("Substitutes", ", ".join(others) or "none", ", ".join(wanted) or "none")


def _said(fixings: Iterable[tuple[str, Decimal]]) -> str:
    return ", ".join(f"{short(count)} {code}" for code, count in fixings) or "none"


def _same(price: Price, facts: PriceFacts) -> bool:
    return all(getattr(price, key) == value for key, value in facts.__dict__.items())


def _heading(key: str) -> str:
    return FACTS[key].label.lower() if key in FACTS else key.replace("_", " ")
