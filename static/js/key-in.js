/* Steps of a quarter hour, and a length read back as it is typed. The page works without either. */
(function () {
  "use strict";
  document.querySelectorAll(".step button").forEach(function (button) {
    button.hidden = false;
    button.addEventListener("click", function () {
      var box = button.parentNode.querySelector("input");
      var hours = parseFloat(String(box.value).replace(",", ".")) || 0;
      hours = Math.min(24, Math.max(0, hours + parseFloat(button.dataset.step)));
      box.value = hours.toFixed(2);
    });
  });

  function lowest(top, bottom) {
    while (top % 2 === 0 && bottom % 2 === 0 && top) { top /= 2; bottom /= 2; }
    return top + "/" + bottom;
  }

  function said(parts) {
    if (parts.mm !== undefined) return parts.mm ? parts.mm + " mm" : "";
    if (!parts.ft && !parts["in"] && !parts["16ths"]) return "";
    var inches = parts["in"] || "0";
    if (parseInt(parts["16ths"], 10)) inches += " " + lowest(parseInt(parts["16ths"], 10), 16);
    return (parts.ft || "0") + "′ " + inches + "″";
  }

  document.querySelectorAll("fieldset.len").forEach(function (set) {
    var echo = set.querySelector(".echo");
    var boxes = set.querySelectorAll("input");
    function read() {
      var parts = {};
      boxes.forEach(function (box) { parts[box.dataset.part] = box.value.trim(); });
      echo.textContent = said(parts) ? "= " + said(parts) : "";
    }
    boxes.forEach(function (box) { box.addEventListener("input", read); });
    read();
  });
})();
