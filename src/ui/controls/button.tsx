import type { ButtonHTMLAttributes } from "react";

export interface ButtonProps extends ButtonHTMLAttributes<HTMLButtonElement> {
  /** `go` is the one main action of a screen; `quiet` looks like a link. */
  readonly kind?: "plain" | "go" | "quiet";
  readonly big?: boolean;
}

export function Button({ kind = "plain", big = false, className, type = "button", ...rest }: ButtonProps) {
  const classes = ["button", kind === "plain" ? "" : `button-${kind}`, big ? "button-big" : "", className ?? ""];
  return <button {...rest} type={type} className={classes.filter(Boolean).join(" ")} />;
}
