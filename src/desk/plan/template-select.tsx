// Which session is laid: those that come along, then the coach's own.
import { useQuery } from "@tanstack/react-query";
import type { ReactNode } from "react";
import { SelectField } from "../../ui/controls/field.tsx";
import { practiceQuery } from "../data/coaching-queries.ts";
import { planWords as words } from "../strings/plan.ts";

interface TemplateSelectProps {
  readonly groupId: string;
  readonly label: ReactNode;
  readonly value: string;
  readonly onChange: (templateId: string) => void;
  /** The first choice, with the value "". */
  readonly none?: string;
}

export function TemplateSelect({ groupId, label, value, onChange, none }: TemplateSelectProps) {
  const templates = useQuery(practiceQuery(groupId)).data?.templates ?? [];
  return (
    <SelectField label={label} value={value} onChange={(event) => onChange(event.target.value)}>
      {none !== undefined && <option value="">{none}</option>}
      {templates.map((template) => (
        <option key={template.id} value={template.id}>
          {template.own ? words.ownMark(template.title) : template.title}
        </option>
      ))}
    </SelectField>
  );
}
