// SPDX-License-Identifier: GPL-3.0-or-later
// What matters most: every valve of the network with whom shutting it alone cuts off, and whom a
// break beside it cuts off if it sticks; and the shuts that take most.
#pragma once

#include "app/shell/session.h"
#include "app/shut/fresh_page.h"

class QLabel;
class QTabWidget;

namespace keyround {

class BigButton;
class DataTable;
class LargeShutModel;
class MapWidget;
class WeightModel;

class MattersPage final : public FreshPage
{
    Q_OBJECT
public:
    explicit MattersPage(Session &session, QWidget *parent = nullptr);
    void focusField();

Q_SIGNALS:
    void backAsked();

protected:
    void reload() override;

private:
    void showValve(int row);
    void showLargeShut(int row);

    Session &m_session;
    WeightModel *m_weights;
    LargeShutModel *m_large;
    BigButton *m_back;
    QLabel *m_sentence;
    QTabWidget *m_tabs;
    DataTable *m_valves;
    DataTable *m_shuts;
    MapWidget *m_map;
};

} // namespace keyround
