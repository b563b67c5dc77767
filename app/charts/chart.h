// SPDX-License-Identifier: GPL-3.0-or-later
// The widget that every chart is: it draws a ChartPicture with QCustomPlot, for the Office, for
// files and for the console.
//
// Series differ by colour, by pattern or shape and by outline, so that a picture reads in grey too;
// the key stands beside the data and never over it. Hovering says what is under the pointer; a
// click or the arrow keys choose an item; wheel, + and - change the stretch that is seen, Home
// shows all of it; Ctrl+C copies the picture and its figures; T shows the figures as a table, which
// a screen reader can read, and the picture again.
#pragma once

#include "app/charts/chart_picture.h"
#include "app/charts/picture_files.h"

#include <QWidget>

#include <memory>

class QPainter;
class QRectF;
class QTableView;

namespace keyround {

class Chart final : public QWidget, public PictureView
{
    Q_OBJECT
public:
    explicit Chart(QWidget *parent = nullptr);
    ~Chart() override;

    void show(const ChartPicture &picture);
    [[nodiscard]] const ChartPicture &picture() const;

    /// Marks an item; -1 for none. Sends no signal.
    void choose(int item);
    [[nodiscard]] int chosen() const;

    /// Shows the figures in place of the picture.
    void setTableShown(bool on) override;
    [[nodiscard]] bool isTableShown() const override;
    [[nodiscard]] QTableView *table() const;

    [[nodiscard]] FilePicture filePicture() override;
    [[nodiscard]] bool hasPicture() const override;
    [[nodiscard]] Status savePng(const QString &path, const QSize &size = {1600, 900});
    /// Vector graphics on a page of this size in points of 1/96 in.
    [[nodiscard]] Status savePdf(const QString &path, const QSize &size = {1000, 620});
    [[nodiscard]] Status saveSvg(const QString &path, const QSize &size = {1000, 620});
    [[nodiscard]] Status saveCsv(const QString &path);
    void copy();
    /// Paints the picture whole into an area, as on paper.
    void paintInto(QPainter &painter, const QRectF &area);

    /// The middle of an item on this widget: for tests and for tool tips.
    [[nodiscard]] QPoint placeOf(int item) const;
    /// A place on this widget for a place on the axes.
    [[nodiscard]] QPoint placeOf(double x, double y) const;
    /// The number of items that are seen without moving.
    [[nodiscard]] int seenItems() const;
    void showWhole();

    [[nodiscard]] QSize sizeHint() const override { return {760, 380}; }
    [[nodiscard]] QSize minimumSizeHint() const override { return {420, 220}; }

Q_SIGNALS:
    void itemClicked(int item);
    void tableShown(bool on);

protected:
    void keyPressEvent(QKeyEvent *event) override;
    /// The table's T and Ctrl+C are the chart's.
    bool eventFilter(QObject *watched, QEvent *event) override;

private:
    struct Parts;
    std::unique_ptr<Parts> m_parts;
};

/// A picture in a file without a window.
[[nodiscard]] Status savePng(const ChartPicture &picture, const QString &path,
                             const QSize &size = {1600, 900});

} // namespace keyround
