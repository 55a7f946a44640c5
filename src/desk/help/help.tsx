import { Header, Page } from "../shell/header.tsx";
import { ShortcutTable } from "../shell/shortcut-table.tsx";
import { Caution } from "../controls/caution.tsx";
import { PageTitle } from "../shell/page-title.tsx";
import { helpTopics, helpWords } from "../strings/help.ts";

export function HelpPage() {
  return (
    <>
      <Header />
      <Page>
        <PageTitle text={helpWords.title} />
        <p className="muted">{helpWords.lead}</p>
        <h2 className="section-head">{helpWords.eveningTitle}</h2>
        <ol className="prose-list">
          {helpWords.evening.map((step) => (
            <li key={step}>{step}</li>
          ))}
        </ol>
        <Caution />
        <h2 className="section-head">{helpWords.words}</h2>
        <dl className="glossary">
          {Object.values(helpTopics).map((entry) => (
            <div key={entry.title}>
              <dt>{entry.title}</dt>
              <dd>
                <p>{entry.text}</p>
                <p className="muted small">{entry.source}</p>
              </dd>
            </div>
          ))}
        </dl>
        <h2 className="section-head">{helpWords.keys}</h2>
        <ShortcutTable />
        <h2 className="section-head">{helpWords.privacyTitle}</h2>
        <p>{helpWords.privacy}</p>
      </Page>
    </>
  );
}
