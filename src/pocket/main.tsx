// The runner's phone page: opens its memory, shows today, keeps itself on the phone.
import { createRoot } from "react-dom/client";
import "@fontsource-variable/source-sans-3/wght.css";
import "../ui/style/tokens.css";
import "../ui/style/base.css";
import "../ui/style/controls.css";
import "../ui/pictures/pictures.css";
import "./styles/pocket.css";
import "./styles/measure.css";
import "./styles/run.css";
import "./styles/after.css";
import { App } from "./app/app.tsx";
import { NoMemory } from "./app/no-memory.tsx";
import { takeTokenFromAddress } from "./app/link.ts";
import { openPhone } from "./app/phone.ts";
import { PhoneProvider } from "./app/use-phone.tsx";
import { watchWorld } from "./app/watch-world.ts";

const place = document.getElementById("app");
if (place) {
  const root = createRoot(place);
  try {
    const phone = await openPhone(takeTokenFromAddress());
    root.render(
      <PhoneProvider phone={phone}>
        <App />
      </PhoneProvider>,
    );
    watchWorld(phone);
  } catch (error) {
    root.render(<NoMemory because={error instanceof Error ? error.message : String(error)} />);
  }
}
