from collections.abc import Collection

from django.core.exceptions import ValidationError
from django.db import models, router
from django.db.models import CheckConstraint, Q


class CheckedAtOnce(models.Model):
    """For a record with many rules: one question to the database when all of them hold, as they nearly always do.

    Django asks once for each rule, each time with every field; the firm alone has some thirty. Only when a rule is
    broken are they asked one by one, for the words of those that are.
    """

    class Meta:
        abstract = True

    def validate_constraints(self, exclude: Collection[str] | None = None) -> None:
        if not self._all_checks_hold(exclude):
            super().validate_constraints(exclude)
            return
        using = router.db_for_write(type(self), instance=self)
        others = [rule for rule in self._meta.constraints if not isinstance(rule, CheckConstraint)]
        try:
            for rule in others:
                rule.validate(type(self), self, exclude=exclude, using=using)
        except ValidationError:
            # Once more, so that the errors come back sorted by field.
            super().validate_constraints(exclude)

    def _all_checks_hold(self, exclude: Collection[str] | None) -> bool:
        known = self._get_field_expression_map(meta=self._meta, exclude=exclude)
        rules = [rule.condition for rule in self._meta.constraints if isinstance(rule, CheckConstraint)]
        # A rule about a field that is left out cannot be asked; Django passes over it too.
        asked = [rule for rule in rules if rule.referenced_base_fields <= known.keys()]
        if not asked:
            return True
        needed = set().union(*(rule.referenced_base_fields for rule in asked))
        using = router.db_for_write(type(self), instance=self)
        return Q(*asked).check({name: known[name] for name in needed}, using=using)
