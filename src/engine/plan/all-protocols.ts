// Every published protocol that Spondee can lay on a calendar.
import type { Protocol } from "./protocol.ts";
import { willy2016 } from "./protocols/willy-2016.ts";
import { bramah2019 } from "./protocols/bramah-2019.ts";
import { hafer2015 } from "./protocols/hafer-2015.ts";
import { baumgartner2019 } from "./protocols/baumgartner-2019.ts";
import { wang2020 } from "./protocols/wang-2020.ts";
import { huber2024 } from "./protocols/huber-2024.ts";
import { crowell2011 } from "./protocols/crowell-2011.ts";
import { willy2012 } from "./protocols/willy-2012.ts";
import { bowser2018 } from "./protocols/bowser-2018.ts";
import { dosSantos2019 } from "./protocols/dos-santos-2019.ts";
import { chan2018 } from "./protocols/chan-2018.ts";
import { noehren2011 } from "./protocols/noehren-2011.ts";
import { neal2018 } from "./protocols/neal-2018.ts";
import { musgjerd2021 } from "./protocols/musgjerd-2021.ts";
import { crowell2026 } from "./protocols/crowell-2026.ts";
import { tate2017 } from "./protocols/tate-2017.ts";
import { vanDenBerghe2024 } from "./protocols/van-den-berghe-2024.ts";
import { giraldo2020Row } from "./protocols/giraldo-2020-row.ts";

export const protocols: readonly Protocol[] = [
  willy2016,
  bramah2019,
  hafer2015,
  baumgartner2019,
  wang2020,
  huber2024,
  crowell2011,
  willy2012,
  bowser2018,
  dosSantos2019,
  chan2018,
  noehren2011,
  neal2018,
  musgjerd2021,
  crowell2026,
  tate2017,
  vanDenBerghe2024,
  giraldo2020Row,
];

export function findProtocol(id: string): Protocol | undefined {
  return protocols.find((protocol) => protocol.id === id);
}
