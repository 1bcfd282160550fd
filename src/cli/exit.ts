/** What the exit code says. The command `check` answers with HOLDS or FAILS, `choose` likewise. */
export const EXIT = { holds: 0, fails: 1, unusable: 2 } as const;
