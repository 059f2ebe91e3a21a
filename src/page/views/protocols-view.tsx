import { useRef } from "preact/hooks";
import { sorenessOf } from "../../answers/session.js";
import { writePrescription } from "../../protocol/write-prescription.js";
import { useAppState } from "../app.js";
import { Headline } from "../parts/answer-view.js";
import { OwnOptions, WhatIsAsked } from "../parts/asked.js";
import { NoAnswerYet } from "../parts/failed-answer.js";
import { TableView } from "../parts/table-view.js";
import { CautionsLine, CautionsPanel } from "./cautions-panel.js";
import { Kept } from "./kept.js";
import { ComparedPicture } from "./protocols/compared-picture.js";
import { ComparisonSection } from "./protocols/comparison-section.js";
import { ComparisonToKeep } from "./protocols/comparison-to-keep.js";
import { ProjectionBlock } from "./protocols/projection-block.js";
import { ProtocolControls } from "./protocols/protocol-controls.js";
import { SessionBlock } from "./protocols/session-block.js";
import { fewestProtocols, useCompared } from "./protocols/use-compared.js";
import { protocolLetters, useProtocolTexts } from "./protocols/use-protocol-texts.js";
import { WrittenProtocol } from "./protocols/written-protocol.js";
import type { View } from "./view.js";

const idOf = (letter: string): string => `protocol-${letter.toLowerCase()}`;

const ProtocolsBody = () => {
  const [texts, setTexts] = useProtocolTexts();
  const all = useCompared(texts);
  const { protocols, compared, failure, isShared, projectedAs } = all;
  // Parts that are kept as they are call what is current, not what was when they were drawn.
  const current = useRef({ texts, setTexts });
  current.current = { texts, setTexts };
  const change = (place: number, text: string): void => {
    const { texts: now, setTexts: set } = current.current;
    set(now.map((old, at) => (at === place ? text : old)));
  };
  const last = protocols.flatMap(({ letter, last: p }) => (p === undefined ? [] : [{ letter, p }]));
  const [first, second] = texts;
  const ages = useAppState(({ check }) => check?.ages);
  return (
    <div class="protocols">
      <div class="call">
        {compared.answer === undefined ? (
          <NoAnswerYet failure={failure} again={all.again} />
        ) : (
          <Headline answer={compared.answer} />
        )}
      </div>
      <div class="side-by-side">
        <section aria-label="The protocols" class="written-and-controls">
          {protocols.map(({ letter, read }, place) => (
            <div key={letter} class="written-row">
              <WrittenProtocol
                id={idOf(letter)}
                label={`${letter}, as you would write it`}
                read={read}
                onText={(text) => change(place, text)}
              />
              {texts.length > fewestProtocols ? (
                <button
                  type="button"
                  class="quiet-button"
                  onClick={() => setTexts(texts.filter((_, at) => at !== place))}
                >
                  Remove<span class="unseen"> protocol {letter}</span>
                </button>
              ) : null}
            </div>
          ))}
          <div class="row">
            {first === undefined || second === undefined ? null : (
              <>
                <button
                  type="button"
                  class="quiet-button"
                  onClick={() => setTexts([second, first, ...texts.slice(2)])}
                >
                  Swap A and B
                </button>
                <button
                  type="button"
                  class="quiet-button"
                  onClick={() => setTexts([first, first, ...texts.slice(2)])}
                >
                  Copy A to B
                </button>
              </>
            )}
            {texts.length < protocolLetters.length ? (
              <button
                type="button"
                class="quiet-button"
                onClick={() => setTexts([...texts, texts.at(-1) ?? ""])}
              >
                Add a protocol
              </button>
            ) : null}
          </div>
          <Kept
            of={last.map(({ p }) => writePrescription(p))}
            draw={() => (
              <ProtocolControls
                protocols={last.map(({ letter, p }) => ({
                  id: idOf(letter),
                  letter,
                  p,
                  onChange: (next) =>
                    change(
                      protocolLetters.findIndex((one) => one === letter),
                      writePrescription(next),
                    ),
                }))}
              />
            )}
          />
        </section>
        <div>
          <ComparedPicture of={all} />
          <CautionsLine prescriptions={last.map(({ p }) => p)} ages={ages} />
        </div>
      </div>
      <OwnOptions id="compare" except={["protocol", "protocols"]} />
      <WhatIsAsked />
      <h2>Which gives more?</h2>
      <ComparisonSection answer={compared.answer} waiting={compared.failure === undefined} />
      <h2>Can it be held?</h2>
      <div class="cards">
        {protocols.map(({ letter, session }) => (
          <Kept
            key={letter}
            of={[session.answer, session.failure, all.secondsAcross]}
            draw={() => (
              <SessionBlock name={letter} session={session} secondsAcross={all.secondsAcross} />
            )}
          />
        ))}
      </div>
      <h2>{isShared ? "What trials of this file gave" : "What to expect of each"}</h2>
      <p class="quiet">
        Three ranges, never one number: the average over such studies, a new group like them, and a
        single person in such a group. They describe people like those studied, and are no forecast
        for anyone.
      </p>
      <div class="projections">
        {projectedAs
          .flatMap((own) => own.slice(0, 1))
          .map(({ letter, projected: answer }) =>
            answer === undefined ? null : (
              <Kept
                key={letter}
                of={[
                  answer,
                  all.scale.low,
                  all.scale.high,
                  all.courseScale.low,
                  all.courseScale.high,
                  all.weeksAcross,
                ]}
                draw={() => (
                  <ProjectionBlock
                    letter={letter}
                    answer={answer}
                    scale={all.scale}
                    courseScale={all.courseScale}
                    weeksAcross={all.weeksAcross}
                  />
                )}
              />
            ),
          )}
      </div>
      {compared.answer === undefined ? null : <ComparisonToKeep answer={compared.answer} />}
      <TableView
        table={sorenessOf(last.map(({ letter, p }) => ({ name: letter, prescription: p })))}
      />
      <CautionsPanel prescriptions={last.map(({ p }) => p)} />
    </div>
  );
};

/** Two to six protocols: which gives more, whether they can be held, and what to expect. */
export const protocolsView: View = {
  id: "protocols",
  label: "Compare",
  needsFile: true,
  shows:
    "Two to six protocols on one axis: which gives more, whether each can be held, and how sure that is.",
  door: {
    title: "Compare two protocols",
    sentence: "Which gives more, can it be held, how sure.",
  },
  Body: ProtocolsBody,
};
