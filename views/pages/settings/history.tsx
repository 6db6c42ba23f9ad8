import { EmptyState } from '#views/components/empty-state.tsx';
import { DataTable } from '#views/components/table.tsx';
import { Page } from '#views/layout.tsx';

export type HistoryRow = {
  readonly when: string;
  readonly action: string;
  /** How many of what; empty where one change says it all. */
  readonly counts: string;
  readonly changes: readonly string[];
};

const Folded = ({ action, counts, changes }: HistoryRow) => (
  <details class="on-screen">
    <summary>
      {counts}
      <span class="visually-hidden">{`: ${action}`}</span>
    </summary>
    <ul class="plain-list">
      {changes.map((change) => (
        <li>{change}</li>
      ))}
    </ul>
  </details>
);

export const HistoryPage = ({ rows }: { readonly rows: readonly HistoryRow[] }) => (
  <Page title="What was changed" where={<a href="/settings">Settings</a>} current="settings">
    {rows.length === 0 ? (
      <EmptyState action={{ href: '/', words: 'Go to Today' }}>Nothing has been changed yet.</EmptyState>
    ) : (
      <DataTable
        caption="The last changes, newest first"
        isCaptionHidden
        columns={[
          { name: 'Done', kind: 'heading', cell: (row) => row.action },
          { name: 'When', cell: (row) => <span class="unbroken">{row.when}</span> },
          {
            name: 'What changed',
            kind: 'wide',
            cell: (row) => (row.counts === '' ? row.changes.join(' ') : <Folded {...row} />),
          },
        ]}
        rows={rows}
      />
    )}
  </Page>
);
