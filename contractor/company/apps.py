from django.apps import AppConfig


class CompanyConfig(AppConfig):
    name = "contractor.company"
    verbose_name = "The firm"
