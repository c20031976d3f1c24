from django.urls import include, path

urlpatterns = [
    path("", include("contractor.company.urls")),
    path("catalogue/", include("estimating.catalogue.urls")),
    path("quotes/", include("estimating.quotes.urls")),
    path("", include("jobs.records.urls")),
    path("", include("jobs.supply.urls")),
    path("", include("jobs.schedule.urls")),
    path("", include("jobs.fieldwork.urls")),
    path("", include("jobs.handover.urls")),
    path("", include("jobs.board.urls")),
]
