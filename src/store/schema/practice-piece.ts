// A coach's own session template or drill, as the engine's document.
export interface PracticePieceTable {
  id: string;
  groupId: string;
  kind: "template" | "drill";
  /** Lower case, for order. */
  nameKey: string;
  pieceJson: string;
  createdAt: string;
}
