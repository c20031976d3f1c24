from django.apps import AppConfig


class HouseConfig(AppConfig):
    name = "contractor"
    verbose_name = "The house"

    def ready(self) -> None:
        from contractor import checks  # noqa: F401
