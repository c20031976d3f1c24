from django.apps import AppConfig


class FieldworkConfig(AppConfig):
    name = "jobs.fieldwork"
    verbose_name = "Fieldwork"

    def ready(self) -> None:
        from jobs.fieldwork.services.defects import defect_words
        from jobs.schedule.services.stages import also_held_by

        also_held_by(defect_words)
