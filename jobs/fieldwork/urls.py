from django.urls import path

from jobs.fieldwork.views import defects, keying, orders, photos, today

app_name = "fieldwork"
urlpatterns = [
    path("sheets/", today.today, name="today"),
    path("sheets/find/", today.find, name="find"),
    path("sheets/<str:number>/", today.sheet, name="sheet"),
    path("sheets/<str:number>/<str:letter>/", keying.key_in, name="key_in"),
    path("sheets/<str:number>/<str:letter>/photos/", photos.add, name="add_photo"),
    path("sheets/<str:number>/<str:letter>.pdf", orders.sheet_pdf, name="sheet_pdf"),
    path("jobs/<str:number>/work-orders/", orders.orders, name="orders"),
    path("jobs/<str:number>/work-orders/print/", orders.print_sheets, name="print"),
    path("jobs/<str:number>/work-orders/lists.pdf", orders.lists_pdf, name="lists_pdf"),
    path("jobs/<str:number>/work-orders/<str:letter>.pdf", orders.all_pdf, name="all_pdf"),
    path("jobs/<str:number>/defects/new/", defects.add, name="add_defect"),
    path("defects/<int:defect_id>/", defects.defect, name="defect"),
    path("photos/<int:photo_id>/", photos.photo, name="photo"),
]
