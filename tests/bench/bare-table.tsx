/** A table of so many plain cells, ten to a row. */
export const BareTable = ({ cells, revision }: { readonly cells: number; readonly revision: number }) => (
  <html lang="en-GB">
    <head>
      <title>Bare page</title>
    </head>
    <body>
      <table>
        <tbody>
          {Array.from({ length: Math.ceil(cells / 10) }, (_, row) => (
            <tr>
              {Array.from({ length: Math.min(10, cells - row * 10) }, (_, column) => (
                <td>{revision + row * 10 + column}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </body>
  </html>
);
