// Bodies are checked as they are; text from addresses is turned into numbers and booleans first. Answers are not pruned
// silently: what leaves is what was made, and tests hold it to its schema.
import { Ajv, type ValidateFunction } from "ajv";
import type { FastifyInstance } from "fastify";
import type { TSchema } from "typebox";

const strict = { strict: false, useDefaults: true, validateFormats: false } as const;

export function installValidators(app: FastifyInstance): void {
  const bodies = new Ajv({ ...strict, allErrors: true });
  const addresses = new Ajv({ ...strict, coerceTypes: true });
  app.setValidatorCompiler(({ schema, httpPart }) =>
    (httpPart === "body" ? bodies : addresses).compile(schema as object),
  );
  app.setSerializerCompiler(() => (data) => JSON.stringify(data));
}

export function createAnswerCheck(): (schema: TSchema, answer: unknown) => string | null {
  const ajv = new Ajv({ ...strict, useDefaults: false, allErrors: true });
  const compiled = new Map<TSchema, ValidateFunction>();
  return (schema, answer) => {
    const validate = compiled.get(schema) ?? ajv.compile(schema);
    compiled.set(schema, validate);
    // What the wire does to it: undefined disappears, NaN becomes null.
    return validate(JSON.parse(JSON.stringify(answer))) ? null : ajv.errorsText(validate.errors);
  };
}
