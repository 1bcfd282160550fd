/** The known name that is nearest to a mistyped one, by Damerau–Levenshtein distance; undefined when none is near. */
export declare function nearestName(name: string, known: Iterable<string>): string | undefined;
