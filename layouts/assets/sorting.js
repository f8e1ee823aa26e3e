/* The sorting-out sheet: each thing that is ticked is looked up in every account. The birds keep their order
   and their place; what an account says to it stands beside its name, and nothing is added up to a score. */
"use strict";

(() => {
  const sheet = guide.kept.get("sheet");
  const sorting = document.getElementById("sorting");
  const told = document.getElementById("told");
  const clear = document.getElementById("clear");
  const lines = [...document.querySelectorAll(".sheet fieldset")];
  const items = [...document.querySelectorAll(".birds li")];
  const { say } = guide;
  const words = guide.kept.get("phrases");
  const WORDS = { f: "fits", c: "contradicts", n: "not recorded" };

  // By plumage, and there by key, the number of the statement and that of its phrase.
  const birds = sheet.birds.map(({ apart, account }) => ({
    phrases: account.phrases,
    plumages: apart.map((at) => {
      const { name, told: row } = account.plumages[at];
      const found = new Map();
      for (let i = 0; i < row.length; i += 3) found.set(row[i], [row[i + 1], row[i + 2]]);
      return { name, told: found };
    }),
  }));

  function make(name, className, ...children) {
    const made = document.createElement(name);
    if (className) made.className = className;
    made.append(...children);
    return made;
  }

  function ticked() {
    return [...document.querySelectorAll(".sheet input:checked")].filter((each) => each.value).map((each) => ({
      key: Number(each.name.slice(1)), state: Number(each.value), line: each.closest("fieldset"),
    }));
  }

  // What one plumage of an account says to all that is ticked, thing by thing.
  function against(plumage, phrases, seen) {
    const marks = seen.map(({ key, state }) => {
      const found = plumage.told.get(key);
      const fit = found ? sheet.fits[key][state][found[0]] : "n";
      return { fit, key, part: sheet.keys[key], phrase: found ? phrases[found[1]] : null };
    });
    const count = (fit) => marks.filter((each) => each.fit === fit).length;
    return { name: plumage.name, marks, contradicted: count("c"), fitting: count("f") };
  }

  // A bird fits if something fits in a plumage in which nothing contradicts.
  function held(bird, seen) {
    const found = bird.plumages.map((each) => against(each, bird.phrases, seen));
    const open = found.filter((each) => !each.contradicted);
    const fitting = open.filter((each) => each.fitting);
    const fit = fitting.length ? "f" : open.length ? "n" : "c";
    const meant = fitting.length ? fitting : open.length ? open : found;
    const best = [...meant].sort((a, b) => a.contradicted - b.contradicted || b.fitting - a.fitting)[0];
    return { fit, best, plumages: meant.length < found.length ? meant.map((each) => each.name) : [], found };
  }

  function show() {
    const seen = ticked();
    const all = birds.map((bird) => held(bird, seen));
    items.forEach((item, i) => mark(item, all[i], seen));
    for (const line of lines) tell(line, seen.findIndex((each) => each.line === line), all);
    const count = (fit) => all.filter((each) => each.fit === fit).length;
    told.textContent = seen.length
      ? say("%(ticked)s: fits %(fits)s, contradicts %(contradicts)s, not recorded for %(open)s.", {
        ticked: guide.count("%(num)s thing ticked", "%(num)s things ticked", seen.length),
        fits: count("f"), contradicts: count("c"), open: count("n"),
      })
      : say("Nothing is ticked yet.");
    clear.parentNode.hidden = !seen.length;
  }

  function mark(item, { fit, best, plumages }, seen) {
    const [name, found] = [item.querySelector(".bird"), item.querySelector(".found")];
    item.className = seen.length ? `f-${WORDS[fit].replace(" ", "-")}` : "";
    const text = name.textContent;
    name.replaceChildren(seen.length && fit === "c" ? make("s", "", text) : text);
    found.replaceChildren();
    if (!seen.length) return;
    found.append(make("span", "fit", way(say(WORDS[fit]), "method.html#unsolved")));
    if (plumages.length) found.append(" ", make("span", "in", say("as %(plumages)s", { plumages: plumages.join(", ") })));
    const shown = best.marks.filter((each) => each.fit === fit && each.phrase);
    const others = fit === "c" ? best.marks.filter((each) => each.fit === "f") : [];
    const said = new Map([...shown, ...others].map((each) => [`${each.fit} ${each.part} ${each.phrase[0]}`, each]));
    for (const each of said.values()) found.append(because(each, best.name));
  }

  function named(part) {
    const [word, address] = sheet.parts[part];
    return address ? way(word, address) : word;
  }

  function way(text, address) {
    const made = make("a", "", text);
    made.href = sorting.dataset.root + address;
    return made;
  }

  // The phrase that says so.
  function because({ fit, part, phrase: [text, origin] }, plumage) {
    const quoted = make("q", "", text);
    if (words["written in"]) quoted.lang = words["written in"];
    const side = fit === "c" ? say("against it:") : say("for it:");
    const because = make("span", "because", `${side} `, named(part), " ", quoted);
    if (origin !== plumage) because.append(" ", make("span", "origin", say("from %(plumage)s", { plumage: origin })));
    return because;
  }

  // Under each line, against whom it speaks: on a narrow screen the birds are far away.
  function tell(line, at, all) {
    const effect = line.querySelector(".effect");
    effect.hidden = at < 0;
    if (at < 0) return;
    const codes = items.filter((_, i) => all[i].found.every((each) => each.marks[at].fit === "c"))
      .map((item) => item.querySelector(".code").textContent);
    const on = make("a", "", say("To the birds."));
    on.href = "#birds";
    effect.replaceChildren(codes.length ? `${say("Speaks against %(birds)s.", { birds: codes.join(", ") })} `
      : `${say("Speaks against no bird.")} `, on);
  }

  for (const line of lines) line.addEventListener("change", show);
  clear.addEventListener("click", () => {
    for (const each of document.querySelectorAll(".sheet .not-sure input")) each.checked = true;
    show();
    document.getElementById("birds").focus();
  });
  show();
})();
