// Added to a page while `watch` serves it: follows the builds without a flash, and shows what is wrong over the page.
(function () {
  "use strict";
  var known = -1;
  var build = -1;

  function next() {
    fetch("/.watch/next?after=" + known, { cache: "no-store" })
      .then(function (answer) { return answer.json(); })
      .then(function (told) {
        var first = known < 0;
        known = told.number;
        show(told.problems, told.whole);
        if (!first && told.build !== build) {
          refresh();
        }
        build = told.build;
        next();
      })
      .catch(function () { setTimeout(next, 1000); });
  }

  // What a reader did to the page, by the place of the element among its kind
  function marks() {
    var kept = { ticks: [], words: [], open: [] };
    document.querySelectorAll("input[type=checkbox], input[type=radio]").forEach(function (box) { kept.ticks.push(box.checked); });
    document.querySelectorAll("input:not([type=checkbox]):not([type=radio]), textarea").forEach(function (field) { kept.words.push(field.value); });
    document.querySelectorAll("details").forEach(function (part) { kept.open.push(part.open); });
    return kept;
  }

  function restore(kept) {
    document.querySelectorAll("input[type=checkbox], input[type=radio]").forEach(function (box, at) {
      if (at < kept.ticks.length) { box.checked = kept.ticks[at]; }
    });
    document.querySelectorAll("input:not([type=checkbox]):not([type=radio]), textarea").forEach(function (field, at) {
      if (at < kept.words.length && field.value !== kept.words[at]) {
        field.value = kept.words[at];
        field.dispatchEvent(new Event("input", { bubbles: true }));
      }
    });
    document.querySelectorAll("details").forEach(function (part, at) {
      if (at < kept.open.length) { part.open = kept.open[at]; }
    });
  }

  function refresh() {
    fetch(location.pathname, { cache: "no-store" })
      .then(function (answer) {
        if (!answer.ok) { throw new Error("gone"); }
        return answer.text();
      })
      .then(function (text) {
        var fresh = new DOMParser().parseFromString(text, "text/html");
        var kept = marks();
        var x = window.scrollX;
        var y = window.scrollY;
        document.title = fresh.title;
        styles(fresh);
        replace(document.body, fresh.body);
        restore(kept);
        window.scrollTo(x, y);
      })
      .catch(function () { location.assign("/"); });
  }

  // The new style sheet is loaded before the old one goes, so that the page never stands bare
  function styles(fresh) {
    document.querySelectorAll("link[rel=stylesheet]").forEach(function (old) {
      var href = old.getAttribute("href").split("?")[0];
      var link = document.createElement("link");
      link.rel = "stylesheet";
      link.href = href + "?" + known;
      link.onload = function () { old.remove(); };
      old.after(link);
    });
  }

  // Children that are the same stay as they are; only what differs is exchanged
  function replace(old, fresh) {
    var mine = Array.from(old.childNodes).filter(ours);
    var theirs = Array.from(fresh.childNodes).filter(ours);
    var at = 0;
    for (; at < theirs.length; at += 1) {
      var now = mine[at];
      if (now && now.isEqualNode(theirs[at])) { continue; }
      if (now && deeper(now, theirs[at])) { replace(now, theirs[at]); attributes(now, theirs[at]); continue; }
      var made = document.importNode(theirs[at], true);
      if (now) { now.replaceWith(made); } else { old.append(made); }
    }
    for (; at < mine.length; at += 1) { mine[at].remove(); }
  }

  function ours(node) {
    return !(node.nodeType === 1 && (node.id === "watch-problems" || node.tagName === "SCRIPT"));
  }

  function deeper(one, other) {
    return one.nodeType === 1 && other.nodeType === 1 && one.tagName === other.tagName && one.id === other.id && one.childElementCount > 0;
  }

  function attributes(one, other) {
    Array.from(one.attributes).forEach(function (each) {
      if (!other.hasAttribute(each.name)) { one.removeAttribute(each.name); }
    });
    Array.from(other.attributes).forEach(function (each) {
      if (one.getAttribute(each.name) !== each.value) { one.setAttribute(each.name, each.value); }
    });
  }

  function show(problems, whole) {
    var panel = document.getElementById("watch-problems");
    if (!problems) {
      if (panel) { panel.remove(); }
      return;
    }
    if (!panel) {
      panel = document.createElement("section");
      panel.id = "watch-problems";
      panel.setAttribute("role", "alert");
      panel.setAttribute("aria-label", "Problems in the book");
      panel.style.cssText = "position:fixed;left:0;right:0;bottom:0;max-height:55vh;overflow:auto;margin:0;padding:1rem 1.25rem;" +
        "background:#fffdf7;color:#1d1a16;border-top:4px double #8c2f1b;font:14px/1.45 monospace;white-space:pre-wrap;z-index:99";
      document.body.append(panel);
    }
    panel.textContent = (whole ? "Published, but for sheets that are withheld.\n\n" :
      "The book has problems; this is the last good page.\n\n") + problems;
  }

  next();
}());
