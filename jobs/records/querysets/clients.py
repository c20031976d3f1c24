"""Named questions about clients."""

from django.db import models

from .folding import folded


class ClientQuerySet(models.QuerySet):
    def found_by(self, typed: str):
        """Every word typed is somewhere in their names, phones, email or address."""
        found = self
        for word in folded(typed).split():
            found = found.filter(find_text__contains=word)
        return found
