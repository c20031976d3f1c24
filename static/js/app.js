/* The little that forms need beside htmx: the token, and a sentence when the machine does not answer. */
(function () {
  "use strict";
  var token = document.querySelector("meta[name=csrf-token]").content;
  var lost = document.getElementById("lost");

  document.addEventListener("htmx:configRequest", function (event) {
    if (event.detail.verb !== "get") event.detail.headers["X-CSRFToken"] = token;
  });
  ["htmx:sendError", "htmx:timeout", "htmx:responseError"].forEach(function (name) {
    document.addEventListener(name, function () { lost.hidden = false; });
  });
  document.addEventListener("htmx:afterSwap", function () { lost.hidden = true; });
})();
