from django.urls import include, path

urlpatterns = [
    path("", include("contractor.company.urls")),
]
