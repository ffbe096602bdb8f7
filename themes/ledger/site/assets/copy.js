"use strict";
// Whether this page comes from the house's server or from files, which may be old. Without scripts the page says "if".
(function () {
  document.querySelectorAll("[data-copy]").forEach(function (place) {
    place.hidden = place.dataset.copy !== "local" || location.protocol !== "file:";
  });
})();
