import type { Problem } from '#core/shared/problem.ts';
import { fieldId } from '#views/components/field.tsx';

/** All that is wrong with a form, at its top, each a link to its field. Nothing when there is nothing wrong. */
export const ErrorSummary = (props: { readonly problems: readonly Problem[] }) => {
  const problems = props.problems.filter(({ question }) => !question?.isAnswered);
  return problems.length === 0 ? null : (
    <div class="error-summary" role="alert" tabindex={-1} autofocus>
      <h2>Please look at this again</h2>
      <ul>
        {problems.map(({ path, message }) => (
          <li>{path ? <a href={`#${fieldId(path)}`}>{message}</a> : message}</li>
        ))}
      </ul>
    </div>
  );
};
