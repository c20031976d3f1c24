"""Named questions about water."""

from django.db import models


class LevelReadingQuerySet(models.QuerySet):
    def standing(self):
        return self.filter(struck_out=False)


class DepthPointQuerySet(models.QuerySet):
    def standing(self):
        return self.filter(struck_out=False)
