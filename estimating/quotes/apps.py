from django.apps import AppConfig


class QuotesConfig(AppConfig):
    name = "estimating.quotes"
    verbose_name = "Quotes"
