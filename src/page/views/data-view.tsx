import { useAppState } from "../app.js";
import { TableView } from "../parts/table-view.js";
import type { View } from "./view.js";

const DataBody = () => {
  const check = useAppState((state) => state.check);
  if (check === undefined) return null;
  return (
    <>
      <TableView table={check.fates} />
      <TableView table={check.completeness} />
    </>
  );
};

/** Whether the file can be used: rows' fates, problems with their mends, completeness. */
export const dataView: View = { id: "data", label: "Data", needsFile: true, Body: DataBody };
