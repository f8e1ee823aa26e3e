/* The page to find things on: results stand under their kinds, the best first. */
"use strict";

(() => {
  const SHOWN = 12;
  const REASONS = 3;
  const PAUSE = 300;

  const finder = guide.finder();
  const finding = document.getElementById("finding");
  const [field, told, found] = ["sought", "told", "found"].map((id) => document.getElementById(id));

  const say = (phrase, values = {}) => finder.words[phrase].replace(/%\((\w+)\)s/g, (_, name) => values[name]);

  function make(name, attributes, ...children) {
    const made = document.createElement(name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    made.append(...children);
    return made;
  }

  // What is in another language than the page is marked; names in Latin slant, as elsewhere.
  const marked = (runs) => runs.map(([text, lang]) => (lang ? make(lang === "la" ? "i" : "span", { lang }, text) : text));

  function item({ row, reasons }) {
    const { title, code, address } = finder.rows[row];
    const link = make("a", { href: finding.dataset.root + address }, ...marked(title));
    const why = [...reasons.values()].slice(0, REASONS).flatMap((told, i) => [...(i ? [`${say(";")} `] : []), ...marked(told)]);
    return make("li", {}, link, ...(code ? [" ", make("span", { class: "code" }, code)] : []),
      ...(why.length ? [" ", make("span", { class: "why" }, ...why)] : []));
  }

  function section(kind, results) {
    const heading = finder.kinds[kind][0];
    const list = make("ol", {}, ...results.slice(0, SHOWN).map(item));
    const shown = make("section", { "aria-labelledby": `kind-${kind}` },
      make("h2", { id: `kind-${kind}` }, heading, " ", make("span", { class: "count" }, String(results.length))), list);
    if (results.length > SHOWN) {
      const more = make("button", { type: "button" }, say("All %(count)s", { count: results.length }));
      more.addEventListener("click", () => {
        list.append(...results.slice(SHOWN).map(item));
        more.remove();
        list.children[SHOWN].querySelector("a").focus();
      });
      shown.append(more);
    }
    return shown;
  }

  let pause = 0;

  function show() {
    const query = field.value.trim();
    const [all, lost] = finder.look(query);
    // Where a part and its state agree in one mark, words that stand apart from each other mean something else.
    const isApart = (result) => result.kind === "apart" && all.some(({ kind }) => kind === "mark");
    const [results, apart] = [all.filter((each) => !isApart(each)), all.filter(isApart)];
    const kinds = [...new Set(results.map(({ row }) => finder.rows[row].kind))];
    const ofKind = (kind) => results.filter(({ row }) => finder.rows[row].kind === kind);
    const folded = make("details", {}, make("summary", {}, say("Words found apart"), " ", make("span", { class: "count" }, String(apart.length))),
      make("ol", {}, ...apart.map(item)));
    found.replaceChildren(...kinds.map((kind) => section(kind, ofKind(kind))), ...(apart.length ? [folded] : []));
    document.getElementById("by-hand").hidden = Boolean(query);
    clearTimeout(pause);
    // Said when the typing rests, so that not every letter is read out.
    pause = setTimeout(() => {
      const counts = kinds.map((kind) => `${finder.kinds[kind][0].toLowerCase()} ${ofKind(kind).length}`);
      const without = lost.length ? `${say("Nothing is found for %(words)s; shown without it.", { words: lost.map((word) => say('"%(word)s"', { word })).join(", ") })} ` : "";
      told.textContent = !query ? "" : without + (counts.length ? `${say("Found:")} ${counts.join(", ")}.` : say("Nothing found. Fewer words may find more."));
      const isOld = /^#(find=|sought$)/.test(location.hash);
      if (query || isOld) history.replaceState(null, "", query ? `#find=${encodeURIComponent(query)}` : location.pathname);
    }, PAUSE);
  }

  function move(event) {
    const links = [...found.querySelectorAll("a")].filter((link) => !link.closest("details:not([open])"));
    const at = links.indexOf(document.activeElement);
    if (event.key === "Enter" && event.target === field) {
      if (links.length) links[0].click();
    } else if (event.key === "Escape" && event.target === field) {
      field.value = "";
      show();
    } else if (event.key === "ArrowDown" && links[at + 1]) {
      event.preventDefault();
      links[at + 1].focus();
    } else if (event.key === "ArrowUp" && at >= 0) {
      event.preventDefault();
      (links[at - 1] || field).focus();
    }
  }

  function remember(box) {
    try {
      box.checked = localStorage.getItem("tertial key") !== "off";
      box.addEventListener("change", () => localStorage.setItem("tertial key", box.checked ? "on" : "off"));
    } catch {
      box.closest("p").hidden = true;
    }
  }

  function fromAddress() {
    if (location.hash.startsWith("#find=")) field.value = decodeURIComponent(location.hash.slice(6));
    if (/^#(find=|sought$)/.test(location.hash)) field.focus();
    show();
  }

  finding.hidden = false;
  finding.addEventListener("keydown", move);
  field.addEventListener("input", show);
  remember(document.getElementById("by-key"));
  window.addEventListener("hashchange", fromAddress);
  fromAddress();
})();
