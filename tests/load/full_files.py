"""Texts of a file of each kind in which every key of the format is used."""

from __future__ import annotations

from building import tree_text

FULL_STEPS = """
    first:
      check: Is it lit?
      do: {Finch: [Press., Look.], Wren: Press.}
      who: crew
      minutes: {Finch: 1, Wren: 2.5}
      tools: [key, lens]
      consumables: [wipe]
      notices: [hot]
      access: [lid]
      opens: [cell-out]
      closes: [cell-out]
      occupied: allowed
      people: 2
      lift: {mass: 32, people: 2}
      measure: volts
      sure: 0.5
      usual: [Good]
      data: {Finch: {LAMP-01: "3"}, Wren: {LAMP-01: "4"}}
      picture: lamp.png
      findings:
        Good: {Finch: repeat, Wren: out}
        Flat: {goto: {Finch: mend, Wren: out}, says: {Finch: no, Wren: yes}, opens: [a], closes: [b], models: [Finch]}
        No reading: mend
      unable: {Finch: out, Wren: {to: out, why: no key}}
      models: [Finch, Wren]
    table:
      check: Is it warm?
      who: crew
      findings: [Warm, Cold]
    mend:
      fix: Mend it
      clears: {Finch: [flat], Wren: [flat, worn]}
      who: mechanic
      parts: {Finch: {SL-10: 1}, Wren: {SL-10: if needed}}
      consumables: [wipe]
      do: [Open it., Close it.]
      limits: [volts]
      torque: {Finch: [{where: ring, value: 0.5}], Wren: [{where: ring, value: 1}]}
      data: {LAMP-01: 2.1}
      second_inspection: {look: Seal lies well, who: chief}
      operational_check: lights
      did: Mended.
      recheck: {after: 1 day, who: crew, look: Lit}
      failed: {to: out}
      cannot: out
      misses: [worn]
      try_early: true
      then: {tree: other}
    mend-also: {fix: Mend, clears: [flat], who: crew, do: Mend., misses: others, failed: out, cannot: out}
    repeat: {again: first, findings: {Good: out, Flat: {goto: out}, No reading: {Finch: out, Wren: mend}}, unable: out}
    later:
      end: deferred
      under: {LAMP-01: 7}
      until: 2 days
      accepts: [flat]
      when: [It is dry.]
      cannot: {Finch: out, Wren: out}
    over: {end: hand over, to: chief, for: [flat], who: crew, do: Tell them., report: Broken ___, opens: [later]}
    book: {end: see document, data: {LAMP-01: 9}, for: [flat]}
    there: {end: see another tree, tree: other, for: {flat: [gone]}, reportable: true}
    fine: {end: no fault found, who: mechanic, recheck: {after: 1 day, who: crew, look: Lit}, models: [Wren]}
"""

FULL_CAUSES = """
    flat: {is: Cell flat, why: Old, weight: 3, shows: {first: {Finch: Flat, Wren: [Flat, Good]}}, found: ___ V,
      watch: [IN-1], by_elimination: true, also_look: [The spare], reportable: false, note: n, models: [Finch, Wren]}
    worn: {is: Worn, shows: {first: Good}}
"""

FULL_HEADER = """
    also: [dark, no lamp]
    models: [Finch, Wren]
    author: A
    figures: guessed
    released: {by: B, date: 2026-02-28, digest: abc}
    written_against: {LAMP-01: B}
    before: [The lamp is out.]
    first_actions: [{who: crew, do: Tag it., notices: [hot]}]
    fallback: [{who: crew, do: Use another., notices: [hot], opens: [a], closes: [b]}]
    report: Lamp ___
    otherwise: {unable: out, failed: {to: out, why: nothing helped}, cannot: out}
    x-mine: [1, {a: b}]
"""

FULL = {
    "tree": tree_text(FULL_STEPS, FULL_CAUSES, FULL_HEADER)
    + "cases:\n  - {name: a, role: crew, model: Finch, cause: flat, answers: [Good, Flat], arrives: out}\n",
    "library": """
        faulttree: 1
        operator: Skarnmoor Air Rescue
        revision: 3
        date: May
        roles: {crew: {is: Crew, may: look, may_not: [mend, fly]}, mechanic: {may: mend, includes: [crew], call_out: 5}}
        models: {Finch: one cell, Wren: two cells}
        urgencies: {now: at once}
        occupant: {ask: Is anybody on it?, off: Nobody on it, first: People first}
        accesses: {lid: {is: Lid off, who: crew, minutes: 2, place: box, people: 2, notices: [a], tools: [b],
          opens: [c], closes: [d]}}
        open_items: {loose: {kind: hazard, is: Loose}, later: {kind: duty, is: Later}}
        documents: {LAMP-01: {title: Lamp, revision: B, sections: {"3.1": Cells, a b: Other}}}
        """,
    "notices": """
        faulttree: 1
        notices:
          hot: {signal: warning, hazard: Heat, result: Burns, avoid: [Wait., Go.], every_time: true, occupied: only}
          tip: {signal: note, text: [It is heavy.]}
        """,
    "limits": """
        faulttree: 1
        limits:
          volts: {is: Voltage, unit: V, range: {Finch: [0, 2], Wren: [0, 4]},
            bands: {Flat: {below: {Finch: 1.1, Wren: 2}},
              Fair: {up_to: 3, says: {Finch: so, Wren: so}}, Good: {}}, resolution: 0.1, set: {Finch: 1.5, Wren: 3},
            data: {LAMP-01: 3}}
        """,
    "parts": """
        faulttree: 1
        parts: {SL-10: {is: Cell, models: [Finch], per_year: 6, lead_days: 3, note: n}}
        consumables: {wipe: {is: Wipe, service: 0, cure: 3, note: n}}
        """,
    "tools": "faulttree: 1\ntools: {key: {is: Key, who: crew, note: n}}\n",
    "operational-checks": """
        faulttree: 1
        operational_checks:
          lights: {is: Switching, do: {Finch: [On., Off.], Wren: On.}, ask: Lit?, who: crew,
            minutes: {Finch: 1, Wren: 2}, proved: Lit ___, people: 2, tools: [a], notices: [b], occupied: allowed,
            limits: [volts], data: {Finch: {A: 1}, Wren: {A: 2}}}
        """,
    "inspection": """
        faulttree: 1
        inspection:
          IN-1: {every: 1 month, who: crew, look: Whole, tree: no-light, limit: volts, models: [Finch], data: {A: 1}}
          IN-2: {every: 1 month, who: crew, look: Whole, limit: [volts, amps]}
        """,
}
"""A file of each kind with every key."""
