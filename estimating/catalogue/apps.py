from django.apps import AppConfig


class CatalogueConfig(AppConfig):
    name = "estimating.catalogue"
    verbose_name = "Catalogue"
