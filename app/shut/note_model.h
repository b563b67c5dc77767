// SPDX-License-Identifier: GPL-3.0-or-later
// The notes of the network's report as a table: of all kinds, or of one.
#pragma once

#include "app/shell/session.h"

#include <QAbstractTableModel>

#include <optional>

namespace keyround {

class NoteModel final : public QAbstractTableModel
{
    Q_OBJECT
public:
    enum Column { Number, Weight, Distance, Message, ColumnCount };

    explicit NoteModel(Session &session, QObject *parent = nullptr);
    /// Reads the report again; nothing: all kinds.
    void load(std::optional<NetworkNoteKind> kind);
    [[nodiscard]] std::optional<NetworkNoteKind> kind() const { return m_kind; }
    /// A copy: the report is another one after the next decision.
    [[nodiscard]] NetworkNote noteAt(int row) const;
    /// The row of this thing's note of this kind; -1 when it is gone.
    [[nodiscard]] int rowOf(NetworkNoteKind kind, const QString &number) const;

    [[nodiscard]] int rowCount(const QModelIndex &parent = {}) const override;
    [[nodiscard]] int columnCount(const QModelIndex &parent = {}) const override;
    [[nodiscard]] QVariant data(const QModelIndex &index, int role) const override;
    [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation,
                                      int role) const override;

private:
    Session &m_session;
    std::optional<NetworkNoteKind> m_kind;
    std::vector<NetworkNote> m_notes;
};

/// "fault", "doubt", "said".
[[nodiscard]] QString wordFor(NoteWeight weight);

} // namespace keyround
