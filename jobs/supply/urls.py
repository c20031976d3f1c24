from django.urls import path

from jobs.supply.views import cutting, goods, orders, receipts, yard

app_name = "supply"
urlpatterns = [
    path("orders/", orders.orders, name="orders"),
    path("orders/finish-first/", orders.finish, name="finish"),
    path("orders/draft/", orders.draft, name="draft"),
    path("orders/<int:order_id>/", orders.order, name="order"),
    path("orders/<int:order_id>/drop/", orders.drop, name="drop"),
    path("orders/<int:order_id>/order.pdf", orders.pdf, name="order_pdf"),
    path("orders/<int:order_id>/order.csv", orders.table, name="order_csv"),
    path("orders/<int:order_id>/promised/", orders.promise_all, name="promise_all"),
    path("orders/<int:order_id>/lines/<int:line_id>/promised/", orders.promise, name="promise"),
    path("orders/<int:order_id>/lines/<int:line_id>/cancel/", orders.cancel, name="cancel"),
    path("orders/<int:order_id>/receiving-sheet.pdf", receipts.sheet, name="receiving_sheet"),
    path("orders/<int:order_id>/count/", receipts.count, name="count"),
    path("receipts/<int:receipt_id>/", receipts.receipt, name="receipt"),
    path("receipts/<int:receipt_id>/share/", receipts.share, name="share"),
    path("receipts/<int:receipt_id>/void/", receipts.void, name="void"),
    path("receipts/photos/<int:photo_id>/", receipts.photo, name="photo"),
    path("yard/", yard.yard, name="yard"),
    path("yard/put/", yard.put, name="put"),
    path("yard/<int:stock_id>/", yard.history, name="history"),
    path("yard/<int:stock_id>/<slug:what>/", yard.change, name="change_stock"),
    path("returns/<int:return_id>/", yard.back, name="back"),
    path("jobs/<str:number>/goods/", goods.goods, name="goods"),
    path("jobs/<str:number>/goods/add/", goods.add, name="add_need"),
    path("jobs/<str:number>/goods/reserve/", goods.reserve, name="reserve"),
    path("jobs/<str:number>/goods/spec-<str:letter>/", goods.change, name="change"),
    path("jobs/<str:number>/cut-list/", cutting.page, name="cut_list"),
    path("jobs/<str:number>/cut-list/sawn/", cutting.sawn, name="sawn"),
    path("jobs/<str:number>/cut-list.pdf", cutting.pdf, name="cut_list_pdf"),
    path("jobs/<str:number>/hold/", goods.hold, name="hold"),
    path("needs/<int:need_id>/instead/", goods.instead, name="instead"),
    path("needs/<int:need_id>/<slug:what>/", goods.act, name="act"),
    path("holds/<int:hold_id>/clear/", goods.clear, name="clear"),
]
