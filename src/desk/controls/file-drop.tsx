// A frame to drop files on, with a button that does the same.
import { Button, DropZone, FileTrigger, isFileDropItem } from "react-aria-components";

export interface FileDropProps {
  readonly label: string;
  readonly choose: string;
  readonly types: readonly string[];
  readonly several?: boolean;
  readonly onFiles: (files: readonly File[]) => void;
}

export function FileDrop({ label, choose, types, several, onFiles }: FileDropProps) {
  return (
    <DropZone
      className="drop no-print"
      aria-label={label}
      getDropOperation={() => "copy"}
      onDrop={(event) => {
        void Promise.all(event.items.filter(isFileDropItem).map((item) => item.getFile())).then(onFiles);
      }}
    >
      <span>{label} </span>
      <FileTrigger
        allowsMultiple={several === true}
        acceptedFileTypes={types}
        onSelect={(files) => files && onFiles([...files])}
      >
        <Button className="button">{choose}</Button>
      </FileTrigger>
    </DropZone>
  );
}
