import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import type { Procedure } from '../../shared/api-types/procedure.js';
import { writeAddress } from '../shared/address.js';
import { Mark } from '../shared/mark.js';
import { wordsOf } from '../shared/words.js';
import { CompareRevisions } from './compare-revisions.js';
import { Contents } from './contents.js';
import { groupTitle } from './field-name.js';
import { formWords } from './form-words.js';
import { justSaved } from './just-saved.js';
import { groupPart, partIds } from './page-parts.js';
import { copyAddress, procedureAddress } from './procedure-address.js';
import './procedure-sheet.css';
import { procedureWords } from './procedure-words.js';
import { ReadAlarms } from './read-alarms.js';
import { ReadGeneral } from './read-general.js';
import { ReadGroups } from './read-groups.js';
import { RevisionList } from './revision-list.js';
import { usedRuns, useUsage } from './use-usage.js';

/** One revision as a sheet to be read, with what it changed and every other revision. */
export function ReadProcedure({ newest, shown, against }: { readonly newest: Procedure; readonly shown: Procedure; readonly against: number | null }): JSX.Element {
  const say = wordsOf(procedureWords);
  const words = wordsOf(formWords);
  const usage = useUsage(shown.id);
  const isNewest = shown.revision === newest.revision;
  const { id } = shown;
  useEffect(
    () => () => {
      // The page of another revision may be shown for a moment while the saved one is fetched.
      if (justSaved.value?.revision === shown.revision) justSaved.value = null;
    },
    [],
  );
  const groups = shown.runGroups ?? [];
  return (
    <>
      <p role="status" class="saved">
        {justSaved.value?.id === id && justSaved.value.revision === shown.revision && (
          <><Mark name="full" /> {say.saved(shown.revision)}</>
        )}
      </p>
      {!isNewest && <p class="older">{say.older2(newest.revision)} <a href={procedureAddress(id)}>{say.viewLatest}</a></p>}
      <p class="tools">
        <a class="action" href={procedureAddress(id, { edit: 'yes' })}>{isNewest ? say.edit : say.editLatest(newest.revision)}</a>
        <a class="action" href={copyAddress(id, shown.revision)}>{say.copy}</a>
        {usage !== null && <UsedBy id={id} runs={usedRuns(usage, null)} />}
      </p>
      <div class="with-contents">
        <Contents
          parts={[
            { id: partIds.general, name: words.general },
            { id: partIds.groups, name: words.runGroups() },
            ...groups.map(({ name = '' }, at) => ({ id: groupPart(at), name: groupTitle(name, at), below: true })),
            { id: partIds.alarms, name: words.alarmPart },
            { id: partIds.compare, name: say.compare },
            { id: partIds.revisions, name: say.revisions },
          ]}
        />
        <div class="procedure reading-sheet">
          <ReadGeneral procedure={shown} />
          <ReadGroups groups={groups} />
          <ReadAlarms procedure={shown} />
          <CompareRevisions newest={newest.revision} shown={shown} against={against} />
          <RevisionList newest={newest} shown={shown.revision} usage={usage} />
        </div>
      </div>
    </>
  );
}

function UsedBy({ id, runs }: { readonly id: string; readonly runs: number }): JSX.Element {
  const text = wordsOf(procedureWords).usedByAll(runs);
  return runs === 0 ? <span class="aside">{text}</span> : <a href={writeAddress(['runs'], { procedure: id })}>{text}</a>;
}
