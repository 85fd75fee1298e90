/** What a service answers of one run; thinned, so that it stays small. */
export interface RunAnswers {
  readonly run: Readonly<Record<string, unknown>>;
  readonly excursions: readonly Readonly<Record<string, unknown>>[];
  readonly trace: Readonly<Record<string, unknown>>;
  readonly profile: Readonly<Record<string, unknown>>;
}

export interface Answers {
  readonly runs: readonly RunAnswers[];
  /** The same runs as they are listed. */
  readonly list: readonly Readonly<Record<string, unknown>>[];
  readonly alarms: readonly Readonly<Record<string, unknown>>[];
}

interface Page {
  readonly items: readonly (Readonly<Record<string, unknown>> & { readonly id: string })[];
}

/** Everything that is answered of a small store, in order of what began first. */
export async function answersOf(http: string): Promise<Answers> {
  const get = async <Body>(path: string): Promise<Body> => {
    const response = await fetch(`${http}/api/${path}`);
    if (response.status !== 200) throw new Error(`GET /api/${path} answered ${response.status}: ${await response.text()}`);
    return (await response.json()) as Body;
  };
  const runs: RunAnswers[] = [];
  const list = (await get<Page>('runs?limit=1000')).items.toReversed();
  for (const { id } of list) {
    runs.push({
      run: await get(`runs/${id}`),
      excursions: (await get<Page>(`runs/${id}/excursions?limit=1000`)).items,
      trace: await get(`runs/${id}/trace?points=12`),
      profile: await get(`runs/${id}/profile?bin=100`),
    });
  }
  return { runs, list, alarms: (await get<Page>('alarms?limit=1000')).items.toReversed() };
}
