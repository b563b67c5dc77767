// SPDX-License-Identifier: GPL-3.0-or-later
// The valves of the network and the largest shuts as tables. Read when asked to (reload()): the
// figures take all valves in one go.
#pragma once

#include "app/shell/session.h"

#include <QAbstractTableModel>

namespace keyround {

class WeightModel final : public QAbstractTableModel
{
    Q_OBJECT
public:
    enum Column {
        Number,
        Place,
        State,
        OutAlone,
        MoreIfStuck,
        OutIfStuck,
        Critical,
        Hydrants,
        ColumnCount
    };
    explicit WeightModel(Session &session, QObject *parent = nullptr);
    void reload();

    [[nodiscard]] NetIndex valveAt(int row) const { return static_cast<NetIndex>(row); }
    [[nodiscard]] int rowCount(const QModelIndex &parent = {}) const override;
    [[nodiscard]] int columnCount(const QModelIndex &parent = {}) const override;
    [[nodiscard]] QVariant data(const QModelIndex &index, int role) const override;
    [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation,
                                      int role) const override;

private:
    [[nodiscard]] QString text(NetIndex valve, int column) const;
    [[nodiscard]] int figure(NetIndex valve, int column) const;

    Session &m_session;
    int m_rows = 0;
};

class LargeShutModel final : public QAbstractTableModel
{
    Q_OBJECT
public:
    enum Column { Services, Critical, Hydrants, Valves, ColumnCount };
    explicit LargeShutModel(Session &session, QObject *parent = nullptr);
    void reload();

    [[nodiscard]] const LargeShut &shutAt(int row) const
    {
        return m_shuts.at(static_cast<std::size_t>(row));
    }
    [[nodiscard]] int rowCount(const QModelIndex &parent = {}) const override;
    [[nodiscard]] int columnCount(const QModelIndex &parent = {}) const override;
    [[nodiscard]] QVariant data(const QModelIndex &index, int role) const override;
    [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation,
                                      int role) const override;

private:
    Session &m_session;
    std::vector<LargeShut> m_shuts;
};

} // namespace keyround
