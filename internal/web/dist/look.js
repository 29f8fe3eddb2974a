// Before anything is painted: by night the page must not flash white.
(function () {
  var asked = new URLSearchParams(location.search);
  var look = asked.has("night") ? "night" : asked.has("sun") ? "sun" : asked.has("paper") ? "paper" : null;
  try {
    look = look || localStorage.getItem("thole-look");
  } catch (refused) {
    // A browser that keeps nothing shows the page on paper.
  }
  document.documentElement.dataset.look = look === "night" || look === "sun" ? look : "paper";
})();
