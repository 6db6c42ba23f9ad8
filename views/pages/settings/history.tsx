import { countOf } from '#core/shared/format.ts';
import { EmptyState } from '#views/components/empty-state.tsx';
import { DataTable } from '#views/components/table.tsx';
import { Page } from '#views/layout.tsx';

export type HistoryRow = { readonly when: string; readonly action: string; readonly changes: readonly string[] };

const shownAtOnce = 4;

const Changes = ({ changes }: { readonly changes: readonly string[] }) => {
  const rest = changes.slice(shownAtOnce);
  return (
    <>
      <ul class="plain-list">
        {changes.slice(0, shownAtOnce).map((change) => (
          <li>{change}</li>
        ))}
      </ul>
      {rest.length > 0 ? (
        <details>
          <summary>{countOf(rest.length, 'more', 'more')}</summary>
          <ul class="plain-list">
            {rest.map((change) => (
              <li>{change}</li>
            ))}
          </ul>
        </details>
      ) : null}
    </>
  );
};

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
          { name: 'When', cell: (row) => row.when },
          { name: 'What changed', kind: 'wide', cell: (row) => <Changes changes={row.changes} /> },
        ]}
        rows={rows}
      />
    )}
  </Page>
);
