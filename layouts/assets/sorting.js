/* The sorting-out sheet: each thing that is ticked is looked up in every account. The birds keep their order
   and their place; what an account says to it stands beside its name, and marks are counted but never
   added up to a score. */
"use strict";

(() => {
  const sheet = guide.kept.get("sheet");
  const sorting = document.getElementById("sorting");
  const told = document.getElementById("told");
  const clear = document.getElementById("clear");
  const lines = [...document.querySelectorAll(".sheet fieldset")];
  const items = [...document.querySelectorAll(".birds li")];
  const names = items.map((item) => [...item.querySelector(".bird").childNodes]);
  const { say } = guide;
  const words = guide.kept.get("phrases");
  const WORDS = { f: "fits", a: "not against it", n: "not recorded", c: "contradicts" };
  const CLASSES = { f: "f-fits", a: "f-not-against", n: "f-not-recorded", c: "f-contradicts" };
  const NAMED = 3;

  // By plumage, and there by key, the number of the statement, the clause that says it, and whence that comes.
  const birds = sheet.birds.map(({ apart, account, quoted }, bird) => apart.map((at, place) => {
    const { name, told: row } = account.plumages[at];
    const found = new Map(sizes(bird));
    for (let i = 0; i < row.length; i += 3) {
      const [, origin] = account.phrases[row[i + 2]];
      found.set(row[i], { statement: row[i + 1], clause: sheet.clauses[quoted[place][i / 3]], origin });
    }
    return { name, told: found };
  }));

  // A size is said to every known bird alike.
  function sizes(bird) {
    if (!sheet.sizes[bird]) return [];
    const [statement, clause, lang = ""] = sheet.sizes[bird];
    const known = sheet.keys.map((_, key) => key).slice(sheet["first size"]);
    return known.map((key) => [key, { statement, clause, lang, origin: words.all }]);
  }

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

  /* What one plumage of an account says to all that is ticked, thing by thing. To fit, it must speak of more
     than half of it: where an account is short, that nothing contradicts says little. */
  function against({ name, told: found }, seen) {
    const marks = seen.map(({ key, state }) => {
      const { statement, clause = "", lang = words["written in"], origin } = found.get(key) || {};
      return { fit: statement === undefined ? "n" : sheet.fits[key][state][statement], part: sheet.keys[key], clause, lang, origin };
    });
    const count = (fit) => marks.filter((each) => each.fit === fit).length;
    const [fits, contradicts, open] = ["f", "c", "n"].map(count);
    const fit = contradicts ? "c" : 2 * fits > seen.length ? "f" : fits ? "a" : "n";
    return { name, marks, fits, contradicts, open, fit };
  }

  // A bird is what the best of its plumages is.
  function held(plumages, seen) {
    const found = plumages.map((each) => against(each, seen));
    const fit = Object.keys(WORDS).find((word) => found.some((each) => each.fit === word));
    const meant = found.filter((each) => each.fit === fit);
    const best = [...meant].sort((a, b) => a.contradicts - b.contradicts || b.fits - a.fits)[0];
    return { fit, best, plumages: meant.length < found.length ? meant.map((each) => each.name) : [], found };
  }

  function show() {
    const seen = ticked();
    const all = birds.map((bird) => held(bird, seen));
    const first = make("strong", "", ...answer(all, seen));
    items.forEach((item, i) => mark(item, i, all[i], seen));
    for (const line of lines) tell(line, seen.findIndex((each) => each.line === line), all, first);
    const count = (fit) => all.filter((each) => each.fit === fit).length;
    told.replaceChildren(first);
    if (seen.length) {
      told.append(" ", make("span", "counted", say("%(ticked)s: fits %(fits)s, not against %(left)s, contradicts %(contradicts)s, not recorded for %(open)s.", {
        ticked: guide.count("%(num)s thing ticked", "%(num)s things ticked", seen.length),
        fits: count("f"), left: count("a"), contradicts: count("c"), open: count("n"),
      })));
    }
    clear.parentNode.hidden = !seen.length;
  }

  /* The answer in a line: birds that fit, else those that nothing is against, those first of which the most
     agrees. How many agree is said of each, because it is a count of what is written and no likelihood. */
  function answer(all, seen) {
    if (!seen.length) return [say("Nothing is ticked yet.")];
    const of = (fit) => all.map((each, at) => ({ ...each, at })).filter((each) => each.fit === fit);
    const [fitting, left] = [of("f"), of("a")];
    const meant = fitting.length ? fitting : left;
    const named = [...meant].sort((a, b) => b.best.fits - a.best.fits).slice(0, NAMED);
    if (!named.length) return [say("Fits: no bird.")];
    const birds = named.flatMap(({ at, plumages, best }, i) => [...(i ? [`${say(";")} `] : []), ...guide.told("%(bird)s (%(fits)s of %(seen)s)", {
      bird: [...nameOf(at), ...plumages.map((each) => `, ${each}`)], fits: best.fits, seen: seen.length,
    })]);
    const values = { birds, more: meant.length - named.length };
    if (fitting.length) return guide.told(values.more ? "Fits: %(birds)s; and %(more)s more." : "Fits: %(birds)s.", values);
    return guide.told(values.more ? "No bird fits. Not against it: %(birds)s; and %(more)s more." : "No bird fits. Not against it: %(birds)s.", values);
  }

  function nameOf(at) {
    return names[at].map((each) => each.cloneNode(true));
  }

  function mark(item, at, { fit, best, plumages }, seen) {
    const [name, found] = [item.querySelector(".bird"), item.querySelector(".found")];
    item.className = seen.length ? CLASSES[fit] : "";
    name.replaceChildren(...(seen.length && fit === "c" ? [make("s", "", ...nameOf(at))] : nameOf(at)));
    found.replaceChildren();
    if (!seen.length) return;
    found.append(make("span", "fit", way(say(WORDS[fit]), "method.html#unsolved")));
    if (plumages.length) found.append(" ", make("span", "in", say("as %(plumages)s", { plumages: plumages.join(", ") })));
    found.append(make("span", "agreeing", agreeing(best, seen)));
    const reasons = because(best);
    if (reasons.length && fit === "c") found.append(make("details", "reasons", make("summary", "", say("why")), ...reasons));
    else found.append(...reasons);
  }

  function agreeing({ fits, contradicts, open }, seen) {
    return [
      say("%(fits)s of %(seen)s seen marks agree", { fits, seen: seen.length }),
      contradicts && say("%(contradicts)s against", { contradicts }),
      open && say("%(open)s not recorded", { open }),
    ].filter(Boolean).join(", ");
  }

  // What is written of each part that was ticked, what is against the bird first; nothing where it is silent.
  function because({ name, marks }) {
    const parts = new Map();
    for (const each of marks.filter(({ fit, clause }) => fit !== "n" && clause)) {
      const of = parts.get(each.part) || { c: new Map(), f: new Map() };
      of[each.fit].set(each.clause, each);
      parts.set(each.part, of);
    }
    const rows = [...parts].sort(([, a], [, b]) => (b.c.size > 0) - (a.c.size > 0));
    return rows.map(([part, { c, f }]) => {
      const row = make("span", "because", named(part), " ");
      if (c.size) row.append(`${say("against it:")} `, ...quotes(c, name));
      if (c.size && f.size) row.append(`${say(";")} `);
      if (f.size) row.append(`${say("for it:")} `, ...quotes(f, name));
      return row;
    });
  }

  function quotes(clauses, plumage) {
    return [...clauses].flatMap(([clause, { lang, origin }], at) => {
      const quoted = inTongue(make("q", "", clause), lang);
      const whence = [plumage, words.all].includes(origin) ? [] : [" ", make("span", "origin", say("from %(plumage)s", { plumage: origin }))];
      return [at ? ", " : "", quoted, ...whence];
    });
  }

  function named(part) {
    const [word, address] = sheet.parts[part];
    return address ? way(word, address) : inTongue(make("span", "", word), words["written in"]);
  }

  // What an author wrote is marked where it is in another language than the page.
  function inTongue(made, lang) {
    if (lang) made.lang = lang;
    return made;
  }

  function way(text, address) {
    const made = make("a", "", text);
    made.href = sorting.dataset.root + address;
    return made;
  }

  // Under each line, against whom it speaks and what is left: on a narrow screen the birds are far away.
  function tell(line, at, all, first) {
    const effect = line.querySelector(".effect");
    effect.hidden = at < 0;
    if (at < 0) return;
    const codes = items.filter((_, i) => all[i].found.every((each) => each.marks[at].fit === "c"))
      .map((item) => item.querySelector(".code").textContent);
    const on = make("a", "", say("To the birds."));
    on.href = "#birds";
    effect.replaceChildren(make("span", "answer", ...first.cloneNode(true).childNodes, " "), codes.length ? `${say("Speaks against %(birds)s.", { birds: codes.join(", ") })} `
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
