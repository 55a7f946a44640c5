// A labelled field: label above, hint and error below, all three tied to the input for those who do not see them.
import {
  type InputHTMLAttributes,
  type ReactNode,
  type SelectHTMLAttributes,
  type TextareaHTMLAttributes,
  useId,
} from "react";

interface Frame {
  readonly label: ReactNode;
  readonly hint?: ReactNode;
  readonly error?: string | undefined;
}

function describedBy(id: string, hint: ReactNode, error: string | undefined): string | undefined {
  const ids = [hint === undefined ? "" : `${id}h`, error === undefined ? "" : `${id}e`].filter(Boolean);
  return ids.length > 0 ? ids.join(" ") : undefined;
}

function Framed({ id, label, hint, error, children }: Frame & { readonly id: string; readonly children: ReactNode }) {
  return (
    <div className="field">
      <label className="field-label" htmlFor={id}>
        {label}
      </label>
      {children}
      {hint !== undefined && (
        <p className="field-hint" id={`${id}h`}>
          {hint}
        </p>
      )}
      {error !== undefined && (
        <p className="field-error" id={`${id}e`}>
          {error}
        </p>
      )}
    </div>
  );
}

export function TextField({ label, hint, error, className, ...rest }: Frame & InputHTMLAttributes<HTMLInputElement>) {
  const id = useId();
  return (
    <Framed id={id} label={label} hint={hint} error={error}>
      <input
        {...rest}
        id={id}
        className={className === undefined ? "input" : `input ${className}`}
        aria-invalid={error !== undefined}
        aria-describedby={describedBy(id, hint, error)}
      />
    </Framed>
  );
}

export function TextArea({ label, hint, error, ...rest }: Frame & TextareaHTMLAttributes<HTMLTextAreaElement>) {
  const id = useId();
  return (
    <Framed id={id} label={label} hint={hint} error={error}>
      <textarea
        rows={3}
        {...rest}
        id={id}
        className="input"
        aria-invalid={error !== undefined}
        aria-describedby={describedBy(id, hint, error)}
      />
    </Framed>
  );
}

export function SelectField({
  label,
  hint,
  error,
  children,
  ...rest
}: Frame & SelectHTMLAttributes<HTMLSelectElement>) {
  const id = useId();
  return (
    <Framed id={id} label={label} hint={hint} error={error}>
      <select {...rest} id={id} className="select" aria-describedby={describedBy(id, hint, error)}>
        {children}
      </select>
    </Framed>
  );
}

export function CheckField({ label, ...rest }: { readonly label: ReactNode } & InputHTMLAttributes<HTMLInputElement>) {
  return (
    <label className="check">
      <input {...rest} type="checkbox" />
      <span>{label}</span>
    </label>
  );
}
