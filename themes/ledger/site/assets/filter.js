"use strict";
// A box that hides what does not match. Without scripts it stays hidden and the whole list is there.
(function () {
  function plain(text) {
    return text.toLowerCase().normalize("NFKD").replace(/[\u0300-\u036f]/g, "");
  }
  document.querySelectorAll("[data-filters]").forEach(function (place) {
    var input = place.querySelector("input");
    var told = place.querySelector("output");
    var lists = document.querySelectorAll('[data-filtered="' + place.dataset.filters + '"]');
    var rows = [];
    lists.forEach(function (list) {
      list.querySelectorAll("tbody > tr, :scope > li").forEach(function (row) {
        rows.push({ row: row, list: list, text: plain(row.textContent) });
      });
    });
    function apply() {
      var wanted = plain(input.value).split(/\s+/).filter(Boolean);
      var shown = 0;
      rows.forEach(function (entry) {
        var fits = wanted.every(function (word) { return entry.text.indexOf(word) >= 0; });
        entry.row.hidden = !fits;
        shown += fits ? 1 : 0;
      });
      lists.forEach(function (list) {
        var section = list.closest("section");
        if (section) { section.hidden = !list.querySelector("tbody > tr:not([hidden]), li:not([hidden])"); }
      });
      told.textContent = wanted.length ? shown + " / " + rows.length : "";
    }
    input.addEventListener("input", apply);
    place.hidden = false;
    if (input.value) { apply(); }
  });
})();
