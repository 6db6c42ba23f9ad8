import type { WorkingStep } from '#core/shared/working.ts';
import { Mark } from '#views/components/mark.tsx';

type StepProps = { readonly step: WorkingStep; readonly depth: number };

const Value = ({ step }: { readonly step: WorkingStep }) => (
  <>
    <span class="step-name">{step.name}</span> <strong>{step.valueText}</strong>
    {step.sdText ? <small class="range"> {step.sdText}</small> : null}
  </>
);

// That parts add up is nobody's choice: a sum says nothing of where it comes from.
const Source = ({ step }: { readonly step: WorkingStep }) =>
  step.words === null && step.formulaText !== null ? null : (
    <p class="step-source">
      <Mark mark={step.mark} /> {step.source}
    </p>
  );

const Step = ({ step, depth }: StepProps) => {
  if (step.shownAt !== null) {
    return (
      <li class="figure-step">
        <p>
          <Value step={step} />{' '}
          <a class="step-above" href={`#${step.shownAt}`}>
            worked out above
          </a>
        </p>
      </li>
    );
  }
  if (step.steps.length === 0) {
    return (
      <li class="figure-step" id={step.id}>
        <p>
          <Value step={step} />
        </p>
        <Source step={step} />
      </li>
    );
  }
  return (
    <li class="figure-step" id={step.id}>
      <details open={depth < 2}>
        <summary>
          <Value step={step} />
        </summary>
        <Inside step={step} depth={depth} />
      </details>
    </li>
  );
};

const Inside = ({ step, depth }: StepProps) => (
  <>
    {step.words ? <p class="step-words">{step.words}</p> : null}
    {/* A sum of one part is that part: “x = x” explains nothing. */}
    {step.formulaText && step.formulaText !== step.valueText ? (
      <p class="step-formula">
        = {step.formulaText} = <strong>{step.valueText}</strong>
      </p>
    ) : null}
    <Source step={step} />
    {step.steps.length > 0 ? (
      <ul class="figure-steps">
        {step.steps.map((each) => (
          <Step step={each} depth={depth + 1} />
        ))}
      </ul>
    ) : null}
  </>
);

type TreeProps = {
  readonly step: WorkingStep;
  /** The figure as the other pages show it, which may have fewer digits than its steps need to add up. */
  readonly valueText: string;
};

/** A figure and all it came from, each step a disclosure in the one it went into; the first two levels are open. */
export const FigureTree = ({ step, valueText }: TreeProps) => (
  <div class="figure-tree" id={step.id}>
    <p class="step-top">
      <strong>{valueText}</strong>
      {step.sdText ? <small class="range"> {step.sdText}</small> : null}
      {step.valueText === valueText ? null : <small class="range">{` (in the steps ${step.valueText})`}</small>}
    </p>
    <Inside step={step} depth={0} />
  </div>
);
