import { useQuery, useQueryClient } from "@tanstack/react-query";
import { useNavigate } from "@tanstack/react-router";
import { ActionMenu } from "../controls/menu.tsx";
import { api } from "../data/client.ts";
import { sessionQuery } from "../data/queries.ts";
import { shellWords } from "../strings/common.ts";
import { setTheme, type Theme, useTheme } from "./theme.ts";

const THEMES: readonly { readonly theme: Theme; readonly text: string }[] = [
  { theme: "auto", text: shellWords.themeAuto },
  { theme: "light", text: shellWords.themeLight },
  { theme: "dark", text: shellWords.themeDark },
];

export function AccountMenu() {
  const session = useQuery(sessionQuery);
  const queries = useQueryClient();
  const navigate = useNavigate();
  const theme = useTheme();
  const account = session.data?.account;
  if (!account) return null;
  return (
    <ActionMenu
      label={`${shellWords.account}: ${account.displayName}`}
      actions={[
        { id: "groups", text: shellWords.groups, act: () => void navigate({ to: "/" }) },
        { id: "help", text: shellWords.help, act: () => void navigate({ to: "/help" }) },
        { id: "account", text: shellWords.account, act: () => void navigate({ to: "/account" }) },
        ...THEMES.map((one) => ({
          id: one.theme,
          text: `${theme === one.theme ? "• " : ""}${one.text}`,
          act: () => setTheme(one.theme),
        })),
        {
          id: "out",
          text: shellWords.signOut,
          act: () => {
            void api.call("DELETE /api/session").finally(() => {
              queries.clear();
              void navigate({ to: "/sign-in" });
            });
          },
        },
      ]}
    >
      {account.displayName}
    </ActionMenu>
  );
}
