/* What the search finds. Everything that can be found is a row with names; marks, places and words of the text tell
   by the numbers of rows where they are found. A word that is looked for may be the beginning of the one that is
   meant, or a slip away from it. What shows it is another script. */
"use strict";

const guide = (() => {
  const kept = new Map();

  function keep(name, value) {
    kept.set(name, value);
  }

  /* Makes ready what was kept. `look` gives what is found, the best first, and the words left out; a result is the
     number of its `row`, its `kind` of match and its `reasons`. Of `rows` the title and names, and all reasons, are
     runs of text with their languages, '' for that of the page. */
  function finder() {
    const [names, texts] = [kept.get("names"), kept.get("words")];
    // What a match is worth, from the surest kind to the loosest, and what is taken off. Our own choice.
    const WORTH = { code: 1000, name: 900, beginning: 800, words: 700, mark: 500, place: 400, text: 300, apart: 200 };
    const OFF = { begun: 1, slip: 20, otherName: 2, unsaid: 3, plumage: 40 };
    // So many letters may hold so many slips; from so many on, a slip may also be in the beginning of a word.
    const SLIPS = [[8, 2], [4, 1]];
    const SLIPS_OF_BEGINNINGS = 6;
    const LETTERS = { "æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "ß": "ss", "ı": "i" };

    function fold(text) {
      return text.normalize("NFKD").toLowerCase().replace(/[\p{M}'\u2019\u02bc`\u00b4.]/gu, "")
        .replace(/[æœøłđðþßı]/g, (letter) => LETTERS[letter]).replace(/[\u2010-\u2015\u2212]/g, "-")
        .replaceAll("grey", "gray").replaceAll("colour", "color");
    }

    const chunks = (text) => fold(text).split(/[^\p{L}\p{N}-]+/u).filter(Boolean);
    const whole = (text) => chunks(text).join("").replaceAll("-", "");
    const tokens = (text) => [...new Set(chunks(text).flatMap((each) => each.split("-")).filter(Boolean))];

    // A hyphen may be left out, or stand for a blank; so may a blank.
    function wordsOf(text) {
      const found = new Set(tokens(text));
      for (const each of chunks(text)) found.add(each.replaceAll("-", ""));
      return found.add(whole(text));
    }

    function numbers(packed) {
      const [all, lead] = [[], names.signs.length - names.last];
      let number = 0;
      for (const sign of packed) {
        const digit = names.signs.indexOf(sign);
        if (digit >= names.last) {
          number = number * lead + digit - names.last;
        } else {
          all.push(number * names.last + digit);
          number = 0;
        }
      }
      return all;
    }

    // Takes as many rows from a list of numbers as it says.
    function rowsAt(list, at) {
      const [rows, count] = [[], list[at]];
      for (let i = 1, row = -1; i <= count; i++) rows.push((row += list[at + i] + 1));
      return [rows, at + count + 1];
    }

    // A phrase of the page with texts in its places; a text is its runs, each with the tag of its language.
    const filled = (phrase, places) => names.words[phrase].split(/%\((\w+)\)s/).flatMap((each, i) => (i % 2 ? places[each] : spoken(each)));
    const spoken = (told, language = "") => (Array.isArray(told) ? told.flatMap((text, i) => (i % 2 ? [] : [[text, told[i + 1]]])) : [[told, language]]);
    const written = (told) => spoken(told, names.written);
    const plain = (runs) => runs.map(([text]) => text).join("");

    function named(runs) {
      const text = plain(runs);
      return { text, runs, whole: whole(text), words: wordsOf(text), length: tokens(text).length };
    }

    const rows = names.kinds.flatMap(([heading, before, after, ofKind], kind) => ofKind.map((row) => ({ kind, row })));
    for (const each of rows) {
      const [[, before, after], row] = [names.kinds[each.kind], each.row];
      const pair = typeof row[0] === "number" ? [rows[row[0]], rows[row[1]]] : null;
      const [title, slug, code, ...others] = pair
        ? [filled("%(first)s or %(last)s", { first: pair[0].title, last: pair[1].title }), row[2] || `${pair[0].code}-${pair[1].code}`.toLowerCase(), "", [[`${pair[0].code} ${pair[1].code}`, ""]]]
        : [spoken(row[0]), row[1], row[2], ...row.slice(3).map((name) => spoken(name))];
      const made = () => plain(title).toLowerCase().replaceAll("'", "").split(/[^a-z0-9]+/).filter(Boolean).join("-");
      Object.assign(each, { title, code: code || "", address: before + (slug || made()) + after });
      each.names = [title, ...others].map(named);
      if (code) each.names.push({ text: code, whole: code.toLowerCase(), words: new Set([code.toLowerCase()]), length: 1, isCode: true });
    }
    // A sort of birds, such as waders, is one more name of each, but of none the whole name.
    for (const list of names.sorts) {
      const [packed, sort] = [list[list.length - 1], list.slice(0, -1)];
      for (const at of rowsAt(numbers(packed), 0)[0]) rows[at].names.push({ ...named(spoken(sort[0])), whole: "", words: new Set(sort.map(fold)), length: 1 });
    }
    const bird = (heading) => names.kinds.findIndex((kind) => kind[1].startsWith(heading));
    const parts = new Map(rows.filter((each) => each.kind === bird("parts")).map((each) => [plain(each.title), each.names]));
    // What a term is also called counts like another name, when it is written out.
    const terms = names.terms.map(([term, ...others]) => ({
      ...named(spoken(term, names.english)), others: new Set(others.flatMap((other) => [...wordsOf(other)])),
    }));
    const marks = names.marks.map(([part, packed]) => {
      const runs = spoken(part);
      return { runs, names: parts.get(plain(runs)) || [named(runs)], packed };
    });
    const termOf = (mark, term) => [...mark.runs, ...spoken(`${names.words[":"]} `), ...term.runs];
    const places = names.places.map(([said, name, packed]) => ({ ...named(written(name)), told: [...spoken(`${said} `), ...written(name)], packed }));
    const text = new Map();

    function unpackMark(mark) {
      if (!mark.terms) {
        mark.terms = [];
        const list = numbers(mark.packed);
        for (let at = 0, term = 0, of; at < list.length;) {
          term += list[at];
          [of, at] = rowsAt(list, at + 1);
          mark.terms.push([terms[term], of]);
        }
      }
      return mark.terms;
    }

    function unpackText() {
      const list = numbers(texts.found);
      let [at, word, of] = [0, "", []];
      for (const [, shared, rest] of texts.words.matchAll(/([A-Z])([a-z]*)/g)) {
        word = word.slice(0, shared.charCodeAt(0) - 65) + rest;
        [of, at] = rowsAt(list, at);
        text.set(word, of);
      }
    }

    // How many letters are wrong, missing, too many or in each other's place, in a word or what it begins with.
    function slips(token, word, most) {
      if (word.length < token.length - most) return most + 1;
      let [older, old] = [[], Array.from({ length: word.length + 1 }, (_, i) => i)];
      for (let i = 1; i <= token.length; i++) {
        const now = [i];
        for (let j = 1; j <= word.length; j++) {
          const same = token[i - 1] === word[j - 1] ? 0 : 1;
          now[j] = Math.min(old[j] + 1, now[j - 1] + 1, old[j - 1] + same);
          const crossed = i > 1 && j > 1 && token[i - 1] === word[j - 2] && token[i - 2] === word[j - 1];
          if (crossed) now[j] = Math.min(now[j], older[j - 2] + 1);
        }
        if (Math.min(...now) > most) return most + 1;
        [older, old] = [old, now];
      }
      return token.length < SLIPS_OF_BEGINNINGS ? old[word.length] : Math.min(...old);
    }

    // Each word that a token may stand for, with what that takes off; slips only where nothing else is found, there
    // or in the words before.
    function meant(token, words, ...before) {
      const found = new Map();
      const isFigure = /^\d+$/.test(token);
      for (const word of words.keys()) {
        if (word === token) found.set(word, 0);
        else if (!isFigure && word.startsWith(token)) found.set(word, OFF.begun);
      }
      const [, most] = SLIPS.find(([least]) => token.length >= least) || [0, 0];
      if (found.size || isFigure || !most || before.some((each) => isKnown(token, each))) return found;
      for (const word of words.keys()) {
        const count = slips(token, word, most);
        if (count <= most) found.set(word, OFF.slip * count);
      }
      return found;
    }

    const isKnown = (token, words) => words.has(token) || [...words.keys()].some((word) => word.startsWith(token));

    function vocabulary(named) {
      const words = new Set();
      for (const each of named) for (const word of [...each.words, ...(each.others || [])]) words.add(word);
      return words;
    }

    const WORDS = {
      names: vocabulary(rows.flatMap((each) => each.names)),
      marks: vocabulary([...terms, ...marks.flatMap((each) => each.names)]),
      places: vocabulary(places),
    };

    const isFound = (token) => [...Object.values(WORDS), text].some((words) => meant(token, words).size);
    const isOfPlumage = (token) => names.plumages.includes(token) && !WORDS.names.has(token);

    // The least that is taken off if every token is one of the words of a name; Infinity if one is not.
    function cost(sought, { words, others = [] }) {
      let sum = 0;
      for (const token of sought) {
        let least = Infinity;
        for (const word of words) if (token.has(word)) least = Math.min(least, token.get(word));
        for (const word of others) if (token.get(word) === 0) least = Math.min(least, OFF.otherName);
        sum += least;
      }
      return sum;
    }

    // Small words say nothing beside others; by themselves they may begin something.
    function telling(given) {
      const left = given.filter((token) => !names.small.includes(token));
      return left.length ? left : given;
    }

    // Gives what is found, and the words that were left out because nothing is found for them. Words of a plumage
    // may be true of a row without standing there, and so hide none.
    function look(query) {
      const given = telling(tokens(query));
      const found = rank(given, whole(query));
      const lost = found.length ? [] : given.filter((token) => !isFound(token));
      if (!lost.length || lost.length === given.length) return [found, []];
      const left = given.filter((token) => !lost.includes(token));
      return [rank(left, left.join("")), lost.filter((token) => !isOfPlumage(token))];
    }

    function rank(given, all) {
      const results = new Map();
      const bare = given.filter((token) => !isOfPlumage(token));
      lookFor(given, all, results, 0);
      if (bare.length && bare.length < given.length) lookFor(bare, bare.join(""), results, OFF.plumage);
      return [...results.values()].sort((a, b) => b.worth - a.worth || a.row - b.row);
    }

    function lookFor(asked, all, results, less) {
      // Of the surest kind in which a row is found, the best match counts, and all give their reasons.
      const put = (row, kind, off, reason) => {
        let old = results.get(row);
        if (!old || WORTH[old.kind] < WORTH[kind]) results.set(row, old = { row, kind, worth: 0, reasons: new Map() });
        if (old.kind !== kind) return;
        old.worth = Math.max(old.worth, WORTH[kind] - off - less);
        if (reason) old.reasons.set(plain(reason), reason);
      };
      if (!asked.length) return;
      const of = (words, ...before) => asked.map((token) => meant(token, words, ...before));
      byName(of(WORDS.names), all, put);
      byMark(of(WORDS.marks, WORDS.names, text), put);
      byPlace(of(WORDS.places, WORDS.names, text), put);
      byText(asked, put);
    }

    function byName(sought, all, put) {
      rows.forEach((row, at) => {
        row.names.forEach((name, i) => {
          const [off, why] = [OFF.otherName * i, i && !name.isCode ? name.runs : null];
          if (name.whole === all) put(at, name.isCode ? "code" : "name", off, why);
          else if (all.length > 1 && name.whole.startsWith(all)) put(at, "beginning", off, why);
          const found = cost(sought, name);
          if (found < Infinity) put(at, "words", found + off + Math.max(0, name.length - sought.length), why);
        });
      });
    }

    // A part and a term of it together, or a term alone; what of the part's name is not asked for is taken off.
    function byMark(sought, put) {
      for (const mark of marks) {
        const names = mark.names.filter((name) => sought.length > 1 && sought.some((token) => cost([token], name) < Infinity));
        for (const [term, accounts] of sought.length > 1 && !names.length ? [] : unpackMark(mark)) {
          const off = Math.min(...(sought.length > 1 ? names.map((name) => joined(sought, name, term)) : [cost(sought, term)]));
          if (off < Infinity) for (const account of accounts) put(account, "mark", off, termOf(mark, term));
        }
      }
    }

    function joined(sought, name, term) {
      const [ofTerm, ofPart] = [term, name].map((each) => sought.map((token) => cost([token], each)));
      const isBoth = ofTerm.some((off, i) => off < ofPart[i]) && ofPart.some((off, i) => off < ofTerm[i]);
      if (!isBoth) return Infinity;
      const said = ofPart.filter((off, i) => off < ofTerm[i]).length;
      const unsaid = Math.max(0, name.length - said);
      return sought.reduce((sum, _, i) => sum + Math.min(ofTerm[i], ofPart[i]), OFF.unsaid * unsaid);
    }

    function byPlace(sought, put) {
      for (const place of places) {
        const off = cost(sought, place);
        if (off === Infinity) continue;
        for (const account of rowsAt(numbers(place.packed), 0)[0]) put(account, "place", off, place.told);
      }
    }

    // Every token in the text, or one here and one there: in names, marks, places and text.
    function byText(asked, put) {
      const inText = asked.map((token) => gathered([...meant(token, text, ...Object.values(WORDS))].map(([word, off]) => [text.get(word), off, filled("text: %(word)s", { word: written(word) })])));
      const anywhere = asked.map((token, i) => gathered([...elsewhere(token), ...[...inText[i]].map(([row, [off, why]]) => [[row], off, why])]));
      for (const [sought, kind] of [[inText, "text"], [anywhere, "apart"]]) {
        for (const row of sought[0].keys()) {
          const hits = sought.map((each) => each.get(row));
          if (!hits.every(Boolean)) continue;
          const off = hits.reduce((sum, [each]) => sum + each, 0);
          for (const [, why] of hits) put(row, kind, off, why);
        }
      }
    }

    function* elsewhere(token) {
      const inNames = [meant(token, WORDS.names)];
      const [inMarks, inPlaces] = [WORDS.marks, WORDS.places].map((words) => [meant(token, words, WORDS.names, text)]);
      for (const [at, row] of rows.entries()) {
        for (const name of row.names) {
          const off = cost(inNames, name);
          if (off < Infinity) yield [[at], off, null];
        }
      }
      for (const mark of marks) {
        const isPart = mark.names.some((name) => cost(inMarks, name) < Infinity);
        for (const [term, accounts] of unpackMark(mark)) {
          if (isPart || cost(inMarks, term) < Infinity) yield [accounts, 0, isPart ? mark.runs : termOf(mark, term)];
        }
      }
      for (const place of places) {
        const off = cost(inPlaces, place);
        if (off < Infinity) yield [rowsAt(numbers(place.packed), 0)[0], off, place.told];
      }
    }

    function gathered(hits) {
      const found = new Map();
      for (const [of, off, why] of hits) {
        for (const row of of) if (!found.has(row) || found.get(row)[0] > off) found.set(row, [off, why]);
      }
      return found;
    }

    unpackText();
    return { rows, look, kinds: names.kinds, words: names.words };
  }

  return { keep, finder };
})();
