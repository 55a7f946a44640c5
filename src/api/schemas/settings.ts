// Settings of a group, each with its default; thresholds carry the rule they belong to.
import { type Static, Type } from "typebox";

export const SettingsInput = Type.Object(
  {
    distanceUnit: Type.Optional(Type.Enum(["km", "mile"])),
    heightUnit: Type.Optional(Type.Enum(["cm", "ft-in"])),
    feetShown: Type.Optional(Type.Enum(["both", "one"])),
    lanesTolerancePercent: Type.Optional(Type.Number({ minimum: 0.1, maximum: 10 })),
    click: Type.Optional(Type.String({ maxLength: 40 })),
    locale: Type.Optional(Type.String({ maxLength: 35 })),
    thresholds: Type.Optional(
      Type.Record(Type.String({ maxLength: 80 }), Type.Number(), {
        description: "Evidence id to the coach's own value; absent ids keep their default.",
      }),
    ),
    beatTrackFormat: Type.Optional(Type.Enum(["wav", "flac", "ogg"])),
    eveningTime: Type.Optional(
      Type.String({
        pattern: "^(([01]\\d|2[0-3]):[0-5]\\d)?$",
        description: "When the evening begins, on the group's clock; empty: calendars show the day only.",
      }),
    ),
  },
  { additionalProperties: false },
);
export type SettingsInput = Static<typeof SettingsInput>;

export const Settings = Type.Object({
  distanceUnit: Type.Enum(["km", "mile"]),
  heightUnit: Type.Enum(["cm", "ft-in"]),
  feetShown: Type.Enum(["both", "one"]),
  lanesTolerancePercent: Type.Number(),
  click: Type.String(),
  locale: Type.String({ description: "BCP 47; empty follows the browser." }),
  thresholds: Type.Record(Type.String(), Type.Number()),
  beatTrackFormat: Type.Enum(["wav", "flac", "ogg"]),
  eveningTime: Type.String(),
});
export type Settings = Static<typeof Settings>;
