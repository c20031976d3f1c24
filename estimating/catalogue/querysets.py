"""Questions asked of the catalogue, by name."""

from datetime import date

from django.db.models import Count, F, Q, QuerySet, Window
from django.db.models.functions import Lower, RowNumber


class ItemQuerySet(QuerySet):
    def offered(self) -> "ItemQuerySet":
        """Items that may still be chosen: not retired."""
        return self.filter(active=True)

    def retired(self) -> "ItemQuerySet":
        return self.filter(active=False)

    def of_kind(self, *kinds: str) -> "ItemQuerySet":
        return self.filter(kind__in=kinds)

    def named_like(self, words: str) -> "ItemQuerySet":
        """Items whose code, name, size, species, shelf or supplier holds every one of the words."""
        found = self
        for word in words.split():
            found = found.filter(
                Q(code__icontains=word)
                | Q(name__icontains=word)
                | Q(nominal__icontains=word)
                | Q(species__icontains=word)
                | Q(treatment__icontains=word)
                | Q(shelf__icontains=word)
                | Q(preferred_supplier__name__icontains=word)
            )
        return found

    def by_kind_and_name(self) -> "ItemQuerySet":
        return self.order_by("kind", "name", "code")

    def with_parts(self) -> "ItemQuerySet":
        return self.select_related("preferred_supplier").prefetch_related("sticks", "fixings__part", "substitutes")


class PriceQuerySet(QuerySet):
    def standing(self) -> "PriceQuerySet":
        """Prices nobody has struck out."""
        return self.filter(struck_at=None)

    def known_on(self, on: date) -> "PriceQuerySet":
        """Prices dated on or before this day."""
        return self.filter(dated__lte=on)

    def with_usual_supplier(self) -> "PriceQuerySet":
        """With their supplier, and with the id of the item's usual one as `usual_supplier_id`."""
        return self.select_related("supplier").annotate(usual_supplier_id=F("item__preferred_supplier_id"))

    def newest_first(self) -> "PriceQuerySet":
        return self.order_by("-dated", "-pk")

    def newest_of_each_source(self) -> "PriceQuerySet":
        """For each item, stick and supplier only the row with the latest date, or the latest entered of that date."""
        place = Window(
            RowNumber(),
            partition_by=[F("item_id"), F("stick_id"), F("supplier_id"), F("starter")],
            order_by=[F("dated").desc(), F("pk").desc()],
        )
        return self.annotate(place_in_source=place).filter(place_in_source=1)

    def last_word_of_each_day(self) -> "PriceQuerySet":
        """Without the rows that a later row of the same item, stick, supplier and day corrected."""
        place = Window(
            RowNumber(),
            partition_by=[F("item_id"), F("stick_id"), F("supplier_id"), F("dated")],
            order_by=[F("pk").desc()],
        )
        return self.annotate(place_in_day=place).filter(place_in_day=1)


class SupplierQuerySet(QuerySet):
    def offered(self) -> "SupplierQuerySet":
        return self.filter(active=True)

    def with_counts(self) -> "SupplierQuerySet":
        """With how many prices of theirs are on record and how many items they are the usual one for."""
        return self.annotate(
            price_count=Count("prices", distinct=True), usual_count=Count("preferred_for", distinct=True)
        ).order_by("-active", Lower("name"))

    def called(self, name: str) -> "SupplierQuerySet":
        return self.filter(name__iexact=" ".join(name.split()))


class JointRuleQuerySet(QuerySet):
    def in_order(self) -> "JointRuleQuerySet":
        return self.order_by("position", "pk")

    def with_parts(self) -> "JointRuleQuerySet":
        return self.select_related("bolt").prefetch_related("parts__item")
