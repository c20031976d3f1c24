/* The little that pages need beside htmx: the token, a sentence when the machine does not answer, where one is. */
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

  // On a phone the row of words scrolls: show the one that stands for this page.
  var nav = document.querySelector(".nav"), here = nav && nav.querySelector("[aria-current]");
  if (here && nav.scrollWidth > nav.clientWidth) here.scrollIntoView({block: "nearest", inline: "center"});
})();
