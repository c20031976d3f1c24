from django.urls import URLPattern

app_name = "schedule"
urlpatterns: list[URLPattern] = []
