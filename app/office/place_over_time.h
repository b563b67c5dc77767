// SPDX-License-Identifier: GPL-3.0-or-later
// Where valves went out of condition and came back, over time: the map, and below it a slider of
// the periods. The map shows the valves that were out of condition at the end of the period; those
// that went out in it carry a ring. In the map's place the same valves stand as a table, those that
// came back in the period too.
#pragma once

#include "app/charts/picture_files.h"
#include "core/condition/changes.h"
#include "core/inventory/valve.h"

#include <QWidget>

#include <memory>

class QLabel;
class QSlider;
class QStackedWidget;

namespace keyround {

class DataTable;
class FiguresModel;
class MapWidget;
class Session;

class PlaceOverTime final : public QWidget, public PictureView
{
    Q_OBJECT
public:
    explicit PlaceOverTime(Session &session, QWidget *parent = nullptr);

    /// `counted` are the filter's words; empty: all valves.
    void show(std::shared_ptr<const ConditionChanges> figure,
              std::shared_ptr<const std::vector<Valve>> valves, const QString &counted);
    [[nodiscard]] QSlider *slider() const { return m_slider; }
    [[nodiscard]] MapWidget *map() const { return m_map; }
    [[nodiscard]] DataTable *table() const { return m_table; }
    /// What the line above the slider says.
    [[nodiscard]] QString words() const;

    [[nodiscard]] FilePicture filePicture() override;
    [[nodiscard]] bool hasPicture() const override;
    void setTableShown(bool on) override;
    [[nodiscard]] bool isTableShown() const override;

Q_SIGNALS:
    /// The visit is the last one by the end of the period shown.
    void valveChosen(const ValveId &valve, const VisitId &visit);
    void tableShown(bool on);

protected:
    /// Ctrl+C copies the map and its valves. (T: table or map.)
    void keyPressEvent(QKeyEvent *event) override;

private:
    void showPeriod(int period);
    void choose(const ValveId &valve);
    [[nodiscard]] ReportTable figures() const; ///< of the period shown
    void refreshTable();
    [[nodiscard]] QString title() const;
    void paint(const PictureTarget &target);

    Session &m_session;
    MapWidget *m_map;
    DataTable *m_table;
    FiguresModel *m_rows;
    QStackedWidget *m_stack; ///< the map, or the table
    QLabel *m_words;
    QSlider *m_slider;
    std::shared_ptr<const ConditionChanges> m_figure;
    std::shared_ptr<const std::vector<Valve>> m_valves;
    QString m_counted;
    QString m_filterWords; ///< "Counted: zone High"
    QString m_periodWords; ///< without the filter's
};

} // namespace keyround
